"""Yield and waste in a plan document are told to people and never read back."""

from __future__ import annotations

import json

from nesting.exchange.plan_totals import TotalsPart
from tests.exchange.changed_plan import PLAN, TEXT


def test_yield_and_waste_are_told_in_per_cent() -> None:
    """They are what a shop compares plans by."""
    tree = json.loads(TEXT)
    totals = tree["groups"][0]["totals"]
    # 1592 good of 2000 used, nothing returned.
    assert (totals["yield"], totals["waste"]) == ("79.6 %", "20.4 %")
    assert tree["totals"]["bars"] == 8


def test_told_figures_are_not_read() -> None:
    """The lengths decide; a per cent left from an earlier plan must not."""
    totals = TotalsPart.tree(PLAN.totals)
    assert TotalsPart.model_validate({**totals, "yield": "100 %"}).to_domain() == PLAN.totals
