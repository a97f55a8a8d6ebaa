"""Only goals that somebody asked for are written and pursued."""

from __future__ import annotations

from typing import Any

import pytest

from nesting.domain.goals import MOST_IN_A_GANG, Goals
from nesting.exchange.request_goals import GoalsPart
from tests.exchange.changed_request import faults


@pytest.mark.parametrize(
    ("path", "value", "code", "at"),
    [
        ("/goals", {"gang": 0}, "out-of-range", "/goals/gang"),
        ("/goals", {"gang": MOST_IN_A_GANG + 1}, "out-of-range", "/goals/gang"),
        ("/goals", {"slivers": "maybe"}, "not-a-choice", "/goals/slivers"),
        ("/goals", {"fewer_pattern": True}, "unknown-key", "/goals/fewer_pattern"),
    ],
)
def test_each_fault_is_refused_at_its_place(path: str, value: Any, code: str, at: str) -> None:
    """A goal that is misspelt would be dropped in silence."""
    assert (code, at) in faults(path, value)


def test_goals_nobody_asked_for_are_not_written() -> None:
    """A document of a shop that only wants cheap bars stays free of them."""
    assert GoalsPart.tree(Goals()) == {}
    assert GoalsPart.tree(Goals(gang=3)) == {"gang": 3}
