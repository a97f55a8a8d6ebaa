"""Covers that come out shorter than their channel."""

from __future__ import annotations

from dataclasses import replace

from nesting.domain.material import CapStyle, CoverMode, Family
from nesting.reports.cover_words import offset_words
from nesting.reports.lengths import BothUnits
from nesting.reports.whereabouts import pieces_by_id
from nesting.units import Length, Unit, inches, mm
from tests.reports.plans import example_plan

PLAN = example_plan()
GROUP = replace(PLAN.groups[3], cover_follows=True)
BAR = GROUP.bars[2]
PIECES = pieces_by_id(PLAN)


def test_a_cover_between_two_noses_is_set_back_with_a_spacer() -> None:
    """Noses of 8 mm: the cover comes out 16 mm shorter and slides back by the spacer, 8 mm."""
    assert offset_words(PLAN, GROUP, BAR, PIECES, BothUnits()) == (
        "Covers, cap seated on the clean end, one stroke for both: spacer 8 mm between cap nose and cover, "
        "slide the cover back as much; check: cover 16 mm shorter than the channel."
    )


def test_one_nose_needs_no_spacer_and_names_its_cut() -> None:
    """A piece with a joint at one end has one nose: 8 mm shorter, against the cap itself."""
    second = BAR.cuts[1].piece
    pieces = PIECES | {second: replace(PIECES[second], cover_length=Length(BAR.cuts[1].length - mm(8)))}
    said = offset_words(PLAN, GROUP, BAR, pieces, BothUnits())
    assert "cut 1: spacer 8 mm" in said
    assert "cut 2: cover against the cap's nose, no spacer; check: cover 8 mm shorter" in said


def test_the_inch_shop_reads_inches() -> None:
    """Noses of 3/8 in: 36 in of channel gives 35 1/4 in of cover, 3/4 in less."""
    family = Family(name="TOLV-17N", cap_style=CapStyle.NOSE, nose=inches("3/8"), cover_mode=CoverMode.OFFSET)
    plan = replace(PLAN, request=replace(PLAN.request, families=(family,)))
    name = BAR.cuts[0].piece
    bar = replace(BAR, cuts=(replace(BAR.cuts[0], length=inches(36)),))
    pieces = {name: replace(PIECES[name], cover_length=inches("35 1/4"))}
    said = offset_words(plan, GROUP, bar, pieces, BothUnits(Unit.INCH))
    assert "spacer 3/8 in (9.525 mm)" in said
    assert "3/4 in (19.05 mm) shorter" in said


def test_flush_covers_need_no_word() -> None:
    """A cover that ends with its channel, or is cut alone, is nothing to set back."""
    assert offset_words(PLAN, PLAN.groups[0], PLAN.groups[0].bars[0], PIECES, BothUnits()) == ""
    assert offset_words(PLAN, PLAN.groups[3], BAR, PIECES, BothUnits()) == ""
