"""The request's example, changed in one place, and the findings that refuse it."""

from __future__ import annotations

import copy
import json
from typing import Any

import pytest

from nesting.errors import Finding, InputRefused
from nesting.exchange import read_request
from nesting.exchange.request_example import REQUEST_EXAMPLE


def changed(path: str, value: Any) -> str:
    """Give the example with one value replaced, or taken out when the value is Ellipsis."""
    tree = copy.deepcopy(REQUEST_EXAMPLE)
    *steps, last = path.strip("/").split("/")
    place: Any = tree
    for step in steps:
        place = place[int(step)] if isinstance(place, list) else place[step]
    if value is ...:
        del place[last]
    elif isinstance(place, list):
        place.append(value)
    else:
        place[last] = value
    return json.dumps(tree)


def refused(text: str) -> tuple[Finding, ...]:
    """Read a document that cannot be planned."""
    with pytest.raises(InputRefused) as why:
        read_request(text)
    return why.value.findings


def faults(path: str, value: Any) -> set[tuple[str, str]]:
    """Give code and place of every finding that one changed value is refused with."""
    return {(f.code, f.where.at) for f in refused(changed(path, value))}
