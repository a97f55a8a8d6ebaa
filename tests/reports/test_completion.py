"""Units that are complete, and fixtures that are not."""

from __future__ import annotations

from dataclasses import replace

from nesting.domain.plan import Unplaced
from nesting.reports.completion import (
    fixture_of,
    fixture_words,
    incomplete_words,
    unit_rows,
    units_words,
)
from nesting.reports.whereabouts import pieces_by_id
from nesting.units import mm
from tests.reports.plans import empty_plan, example_plan

PLAN = example_plan()
PIECES = pieces_by_id(PLAN)


def without_section() -> Unplaced:
    """Leave out the middle section of the cove."""
    return Unplaced(
        job="OY", run="OY-304-7", piece="OY-304-7/2", length=mm(1778), reason="no bar left", code="no-stock"
    )


def test_each_unit_is_complete_after_its_last_bar() -> None:
    """A unit's row counts its pieces and names the last bar that holds one of them."""
    for row in unit_rows(PLAN):
        mine = {
            p.id
            for p in PLAN.pieces
            if (p.job, p.place.floor, p.place.unit) == (row.job, row.floor, row.unit)
        }
        bars = [b.number for g in PLAN.groups for b in g.bars if any(c.piece in mine for c in b.cuts)]
        assert (row.pieces, row.after) == (len(mine), max(bars))
    assert sum(row.pieces for row in unit_rows(PLAN)) == 38


def test_what_is_complete_first_comes_first_and_what_never_is_last() -> None:
    """The list is read while the bars are cut; R-7 of no unit is missing for good."""
    rows = unit_rows(PLAN)
    whole = [row.after for row in rows if not row.missing]
    assert whole == sorted(whole)
    assert [(row.job, row.unit, row.missing) for row in rows if row.missing] == [("RUSH", "", 1)]
    assert rows[-1].missing == 1


def test_bars_count_in_the_order_in_which_they_are_cut() -> None:
    """A plan made again keeps its bars' numbers, but may cut the last one first: its units come first too."""
    turned = replace(PLAN, groups=tuple(replace(g, bars=g.bars[::-1]) for g in PLAN.groups[::-1]))
    place = {bar.number: at for at, bar in enumerate(bar for g in turned.groups for bar in g.bars)}
    rows = [row for row in unit_rows(turned) if not row.missing]
    assert [place[row.after] for row in rows] == sorted(place[row.after] for row in rows)
    assert [row.after for row in rows] != sorted(row.after for row in rows)
    named = [row.after for row in rows if row.unit]
    assert f"the first after bar {named[0]}, the last after bar {named[-1]}." in units_words(turned)


def test_one_sentence_sums_the_units_up() -> None:
    """Five flats are named, and all of them get all their pieces."""
    assert units_words(PLAN).startswith("5 of 5 units are complete with this plan, the first after bar")
    assert units_words(empty_plan()) == ""


def test_a_missing_section_leaves_its_fixture_incomplete() -> None:
    """Two of three sections are cut for nothing unless somebody is told."""
    bar = next(b for b in PLAN.groups[0].bars if any(c.piece == "OY-304-7/2" for c in b.cuts))
    cut = replace(bar, cuts=tuple(c for c in bar.cuts if c.piece != "OY-304-7/2"))
    bars = tuple(cut if b is bar else b for b in PLAN.groups[0].bars)
    out = without_section()
    plan = replace(PLAN, groups=(replace(PLAN.groups[0], bars=bars), *PLAN.groups[1:]), unplaced=(out,))
    assert fixture_of(out, PIECES) == ("OY", "OY-304-7", 1)
    assert fixture_words(plan) == {
        ("OY", "OY-304-7", 1): "fixture OY-304-7 (OY-304 / hall) stays incomplete: 2 of its 3 pieces are cut"
    }
    assert unit_rows(plan)[-1].unit == "OY-304"
    assert units_words(plan).startswith("4 of 5 units are complete")


def test_fixtures_that_are_not_made_are_named() -> None:
    """A run that never became pieces is named too, with all its copies; nothing left out says nothing."""
    assert incomplete_words(PLAN) == "Because of that: fixture R-7 is not made."
    runs = tuple(replace(r, quantity=2) if r.id == "OY-304-1" else r for r in PLAN.request.runs)
    out = replace(PLAN.unplaced[0], job="OY", run="OY-304-1", piece="")
    plan = replace(PLAN, request=replace(PLAN.request, runs=runs), unplaced=(out,))
    assert incomplete_words(plan) == "Because of that: fixture OY-304-1, all 2 (OY-304 / living) is not made."
    assert incomplete_words(empty_plan()) == ""
