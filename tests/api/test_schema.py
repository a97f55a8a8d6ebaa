"""The OpenAPI document against the service: what it says is what comes, and nothing brings it down."""

from collections.abc import Iterator
from typing import Any

import pytest
import schemathesis
from hypothesis import HealthCheck, given, settings
from hypothesis.errors import Unsatisfiable
from schemathesis.core.failures import FailureGroup
from schemathesis.specs.openapi.checks import positive_data_acceptance

from api.access.keys import Scope, make_key
from api.store.engine import Store
from api.store.migrate import upgrade
from benchmarks.service.server import serving

EXAMPLES = 5
NO_HTTP = "Invalid HTTP request received."
TRIED = settings(
    max_examples=EXAMPLES,
    deadline=None,
    derandomize=True,
    database=None,
    suppress_health_check=list(HealthCheck),
)


@pytest.fixture(scope="module")
def described(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Any]:
    """Give the schema of a running service that asks for keys, and a header with one."""
    url = f"sqlite:///{tmp_path_factory.mktemp('schema') / 'store.sqlite3'}"
    store = Store(url)
    upgrade(store)
    with store.write() as session:
        key = make_key(session, "schemathesis", [Scope.ADMIN], store.now(session)).text
    store.close()
    with serving(url, solvers=1, rate=0, keys="required") as server:
        schema = schemathesis.openapi.from_url(f"{server.url}/v1/openapi.json")
        yield schema, {"Authorization": f"Bearer {key}"}


@pytest.mark.parametrize("mode", list(schemathesis.GenerationMode))
def test_every_answer_is_described(described: Any, mode: schemathesis.GenerationMode) -> None:
    """No 5xx, no undocumented status, content type or body, whatever is sent."""
    schema, headers = described
    operations = [result.ok() for result in schema.get_all_operations()]
    assert len(operations) >= 30
    refused = []
    for operation in operations:

        @TRIED
        @given(case=operation.as_strategy(generation_mode=mode))
        def holds(case: Any) -> None:
            # A schema cannot tell a length from a text that is none; refusing that is right.
            case.call_and_validate(headers=headers, excluded_checks=[positive_data_acceptance])

        try:
            holds()
        except Unsatisfiable:
            continue  # nothing can be sent wrong where nothing can be sent
        except (Exception, FailureGroup) as why:
            if NO_HTTP not in str(why):  # control characters in a header: the service never sees the request
                refused.append(f"{operation.label}: {why}")
    assert refused == []
