"""Lots in words."""

from __future__ import annotations

from dataclasses import replace

from nesting.paper.lots import lot_of, lot_words
from tests.reports.plans import BRASK, TOLV, example_plan

PLAN = example_plan()


def test_a_bound_material_names_its_lot_and_a_free_one_leaves_a_line() -> None:
    """What is known is printed, what is found out at the bar is written in."""
    bar = PLAN.groups[0].bars[0]
    assert lot_words(PLAN, bar, BRASK) == "lot OY"
    assert lot_words(PLAN, bar, TOLV) == "lot ________"


def test_an_offcut_brings_its_own_lot() -> None:
    """Pieces from the rack carry the lot on the offcut's tag."""
    offcuts = tuple(replace(offcut, lot="L7") for offcut in PLAN.request.offcuts)
    plan = replace(PLAN, request=replace(PLAN.request, offcuts=offcuts))
    bar = next(bar for bar in plan.groups[3].bars if bar.offcut)
    assert lot_of(plan, bar, TOLV) == "L7"
    assert lot_of(plan, plan.groups[3].bars[-1], TOLV) == ""
