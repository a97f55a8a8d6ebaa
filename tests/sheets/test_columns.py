"""Headings are matched by meaning, and never to two things."""

from __future__ import annotations

import pytest

from nesting.sheets.columns import (
    OFFCUTS,
    PIECES,
    PLANS,
    RUNS,
    STOCK,
    SheetPlan,
    match_heading,
    plain_words,
    plan_for_tab,
)


@pytest.mark.parametrize(
    ("heading", "field"),
    [
        ("Length (mm)", "length"),
        ("LENGTH - IN", "length"),
        ("  length\u00a0[in]  ", "length"),
        ("Opening width, mm", "opening"),
        ("Overall length", "finished"),
        ("Cut length", "channel"),
        ("Qty.", "quantity"),
        ("No. of pcs", "quantity"),
        ("No. off", "quantity"),
        ("Apt. No.", "unit"),
        ("Flat", "unit"),
        ("Level", "floor"),
        ("Order no.", "job"),
        ("Profile", "family"),
        ("Finish / Colour", "finish"),
        ("End (left)", "left"),
        ("L end", "left"),
        ("R.H. end", None),
        ("RH end", "right"),
        ("Gap, left", "clearance_left"),
        ("Supplier's code", None),
        # A letter of a flat type in a cross table, no article: below it stand counts, not families.
        ("Type A", None),
        ("Type (A)", None),
        ("Flat (B2)", None),
        ("Unit (m)", "unit"),
        ("Length is", "kind"),
        ("Unit A", None),
    ],
)
def test_run_headings(heading: str, field: str | None) -> None:
    """Protects the reading of lists made elsewhere."""
    found = match_heading(RUNS, heading)
    assert (found[0].field if found else None) == field


@pytest.mark.parametrize(
    ("heading", "firm"), [("Quantity", True), ("No.", False), ("Size", False), ("Type", False)]
)
def test_weak_headings_say_so(heading: str, firm: bool) -> None:
    """Protects a real Quantity column from a "No." column beside it."""
    found = match_heading(RUNS, heading)
    assert found is not None
    assert found[1] is firm


@pytest.mark.parametrize("plan", PLANS, ids=lambda plan: plan.kind.value)
def test_no_spelling_means_two_columns(plan: SheetPlan) -> None:
    """Protects the tables: every heading and every synonym finds its own column."""
    for column in plan.columns:
        for spelling in (column.heading, *column.accepts, *column.weak):
            found = match_heading(plan, spelling)
            assert found is not None
            assert found[0] is column, f"{spelling!r} finds {found[0].heading!r}, not {column.heading!r}"
        assert [plain_words(name) for name in (*column.accepts, *column.weak)] == [
            *column.accepts,
            *column.weak,
        ]


@pytest.mark.parametrize(
    ("tab", "plan"),
    [("Runs", RUNS), ("cut list", PIECES), ("STOCK", STOCK), ("Off-cuts", OFFCUTS), ("Sheet1", None)],
)
def test_tabs(tab: str, plan: SheetPlan | None) -> None:
    """Protects workbooks whose tabs are named in other words."""
    assert plan_for_tab(tab) is plan


def test_a_plan_gives_its_column_by_field() -> None:
    """Protects the messages that name a heading."""
    assert RUNS.column("quantity").heading == "Quantity"
