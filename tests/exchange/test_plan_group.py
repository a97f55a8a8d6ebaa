"""Cost, gap and proof of a group are told in words that its numbers bear out."""

from __future__ import annotations

import json
from typing import Any

import pytest

from tests.exchange.changed_plan import TEXT, faults


@pytest.mark.parametrize(
    ("path", "value", "code", "at"),
    [
        ("/groups/0/seconds", "long", "not-a-number", "/groups/0/seconds"),
        ("/groups/0/seconds", True, "not-a-number", "/groups/0/seconds"),
        ("/groups/0/cost", 12.8, "not-a-text", "/groups/0/cost"),
        ("/groups/0/cost", "-1", "string-pattern-mismatch", "/groups/0/cost"),
        ("/groups/4/cost", "1.5", "not-a-whole-number", "/groups/4/cost"),
        ("/groups/0/saw/kerf_nm", -1, "cannot-be", "/groups/0/saw"),
    ],
)
def test_each_fault_is_refused_at_its_place(path: str, value: Any, code: str, at: str) -> None:
    """Cost and bound are money, or whole bars; neither may be read as the other."""
    assert (code, at) in faults(path, value)


def test_cost_gap_and_proof_are_told_in_words() -> None:
    """A person who opens the file sees how good the plan is without dividing anything."""
    groups = json.loads(TEXT)["groups"]
    assert (groups[0]["cost"], groups[0]["proof"]) == ("12.80", "No cheaper plan cuts these pieces (proved).")
    assert groups[2]["gap"] == "50.0 %"
