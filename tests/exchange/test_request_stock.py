"""Bars and offcuts of a request: each fault at its place, an offcut's ends as they are."""

from __future__ import annotations

import json
from typing import Any

import pytest

from nesting.domain.stock import EndState
from nesting.exchange import read_request
from nesting.exchange.request_example import REQUEST_EXAMPLE
from tests.exchange.changed_request import faults


@pytest.mark.parametrize(
    ("path", "value", "code", "at"),
    [
        ("/stock/0/count", -1, "out-of-range", "/stock/0/count"),
        ("/stock/0/count", "many", "not-a-whole-number", "/stock/0/count"),
        ("/stock/0/pack", 0, "out-of-range", "/stock/0/pack"),
        ("/stock/0/family", ..., "missing-key", "/stock/0/family"),
        ("/offcuts/0/left", "bent", "not-a-choice", "/offcuts/0/left"),
        ("/offcuts/0/tag", ..., "missing-key", "/offcuts/0/tag"),
    ],
)
def test_each_fault_is_refused_at_its_place(path: str, value: Any, code: str, at: str) -> None:
    """A bar that does not exist cannot be cut."""
    assert (code, at) in faults(path, value)


def test_an_offcut_has_one_clean_end_unless_said() -> None:
    """It was sawn off a bar at its left end; the right one may be the bar's raw end."""
    offcut = read_request(json.dumps(REQUEST_EXAMPLE)).offcuts[0]
    assert (offcut.left, offcut.right) == (EndState.CLEAN, EndState.RAW)
