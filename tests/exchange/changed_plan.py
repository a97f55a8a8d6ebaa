"""The document of a small plan, changed in one place, and the findings that refuse it."""

from __future__ import annotations

import json
from typing import Any

import pytest

from nesting.errors import Finding, InputRefused
from nesting.exchange import read_plan, write_plan
from tests.verify.small_plan import plan

PLAN = plan()
TEXT = write_plan(PLAN)


def changed(path: str, value: Any) -> str:
    """Give the plan's document with one value replaced, or taken out when the value is Ellipsis."""
    tree = json.loads(TEXT)
    *steps, last = path.strip("/").split("/")
    place: Any = tree
    for step in steps:
        place = place[int(step)] if isinstance(place, list) else place[step]
    if value is ...:
        del place[last]
    else:
        place[int(last) if isinstance(place, list) else last] = value
    return json.dumps(tree)


def refused(text: str) -> tuple[Finding, ...]:
    """Read a document that is no plan."""
    with pytest.raises(InputRefused) as why:
        read_plan(text)
    return why.value.findings


def faults(path: str, value: Any) -> set[tuple[str, str]]:
    """Give code and place of every finding that one changed value is refused with."""
    return {(f.code, f.where.at) for f in refused(changed(path, value))}
