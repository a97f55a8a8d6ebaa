"""Query parameters: a misspelt filter is refused instead of being passed over."""

from tests.api.problems import problem
from tests.api.service import Running


def test_a_misspelt_filter_is_refused(service: Running) -> None:
    """Otherwise all plans would look like the ones asked for."""
    answer = service.client.get("/v1/plans?stat=proposed")
    assert problem(answer, 422) == "unknown-parameter"
    assert "state" in answer.json()["detail"]


def test_a_parameter_given_twice_is_refused_unless_it_is_a_list(service: Running) -> None:
    """Which of the two was meant nobody can tell."""
    assert problem(service.client.get("/v1/plans?limit=1&limit=2"), 422) == "parameter-twice"
    assert service.client.get("/v1/plans?state=queued&state=failed").status_code == 200
