"""Bars in a plan document: each fault at its place, and only what is known of a bar is said."""

from __future__ import annotations

import json
from dataclasses import replace
from typing import Any

import pytest

from nesting.domain.made import BarState
from nesting.exchange.plan_bars import BarPart
from tests.exchange.changed_plan import PLAN, TEXT, faults


@pytest.mark.parametrize(
    ("path", "value", "code", "at"),
    [
        ("/groups/0/bars/0/number", 1.5, "not-a-whole-number", "/groups/0/bars/0/number"),
        ("/groups/0/bars/0/tail_nm", "394", "not-a-whole-number", "/groups/0/bars/0/tail_nm"),
        ("/groups/0/bars/0/fate", "lost", "not-a-choice", "/groups/0/bars/0/fate"),
        ("/groups/0/bars/0/state", "sawn", "not-a-choice", "/groups/0/bars/0/state"),
        ("/groups/0/bars/0/sliver", 1, "not-true-or-false", "/groups/0/bars/0/sliver"),
        ("/groups/0/bars/0/cuts/0/lenght_nm", 1, "unknown-key", "/groups/0/bars/0/cuts/0/lenght_nm"),
        ("/groups/0/bars/0/cuts/0/slope_end", "steep", "not-a-number", "/groups/0/bars/0/cuts/0/slope_end"),
        ("/groups/0/bars/0/cuts", None, "not-a-list", "/groups/0/bars/0/cuts"),
        ("/groups/0/bars/0", 7, "not-an-object", "/groups/0/bars/0"),
    ],
)
def test_each_fault_is_refused_at_its_place(path: str, value: Any, code: str, at: str) -> None:
    """What is misspelt in a bar must not be taken for its default: the saw would be set to it."""
    assert (code, at) in faults(path, value)


def test_an_open_bar_says_nothing_of_its_state() -> None:
    """A plan nobody has cut from yet stays free of words about the shop."""
    open_bar = PLAN.groups[0].bars[0]
    assert not {"state", "true_tail_nm", "spoiled", "defects", "zones"} & BarPart.tree(open_bar).keys()
    assert BarPart.tree(replace(open_bar, state=BarState.FROZEN))["state"] == "frozen"


def test_faces_stand_in_millimetres_too() -> None:
    """Who checks a cut at the saw reads millimetres."""
    cut = json.loads(TEXT)["groups"][0]["bars"][0]["cuts"][1]
    assert (cut["face_nm"], cut["face_mm"]) == (1_595_000_000, "1595")
