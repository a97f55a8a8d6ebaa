"""Bars as shares of a drawing."""

from dataclasses import replace

import pytest

from api.pages.plan.drawing import Stretch, drawn
from nesting.domain.made import Spoiled
from nesting.domain.plan import PlannedBar
from nesting.reports.lengths import METRIC, BothUnits
from nesting.units import Unit, mm
from tests.reports.plans import example_plan

BARS = {bar.number: bar for group in example_plan().groups for bar in group.bars}


def kinds(stretches: tuple[Stretch, ...]) -> list[str]:
    return [one.kind for one in stretches]


@pytest.mark.parametrize("bar", BARS.values(), ids=lambda bar: f"bar-{bar.number}")
def test_every_bar_is_drawn_to_one_scale(bar: PlannedBar) -> None:
    """The widths add up to the bar against the longest, whatever is on it."""
    total = sum(float(one.width) for one in drawn(bar, mm(3500), METRIC))
    assert total == pytest.approx(100 * bar.length / mm(3500), abs=0.005 * 10)


def test_a_bar_begins_with_its_trim_and_ends_with_its_tail() -> None:
    """Bar 12: 8 trim, 1803.5, stroke, 592, stroke, 90.5 scrap of 2500."""
    stretches = drawn(BARS[12], mm(2500), METRIC)
    assert kinds(stretches) == ["trim", "piece", "kerf", "piece", "kerf", "scrap"]
    assert (stretches[1].x, stretches[1].width) == ("0.32", "72.14")  # 8 / 2500, 1803.5 / 2500
    assert stretches[1].said == "cut 1: 1803.5 mm (~71 in), OY-305-1"
    assert (stretches[1].piece, stretches[1].order) == ("OY-305-1", 1)
    assert stretches[5].said == "scrap, 90.5 mm (~3 9/16 in)"


def test_a_kept_tail_says_so() -> None:
    """Hatching alone would leave it open what the hatching means."""
    tail = drawn(BARS[17], mm(2500), METRIC)[-1]
    assert (tail.kind, tail.label) == ("offcut", "keep 645")


def test_labels_are_left_out_where_they_do_not_fit() -> None:
    """Half a length is a wrong length: 90.5 mm of 2500 is 10 px on a phone and 29 px on a desk."""
    stretches = drawn(BARS[12], mm(2500), METRIC)
    assert stretches[1].fits == ""
    assert stretches[5].fits is None


def test_a_label_may_fit_on_a_desk_only() -> None:
    """``592`` of 5000 mm has 31 px on a phone and 61 px on a tablet, and wants 29: it fits on both."""
    piece = drawn(BARS[12], mm(5000), METRIC)[3]
    assert (piece.label, piece.fits) == ("592", "")
    inches = drawn(BARS[12], mm(5000), BothUnits(Unit.INCH))[3]
    assert inches.label == "~23 5/16"
    assert inches.fits == "from-desk"  # 8 signs want 66 px: 61 on a tablet, 94 on a desk


def test_what_is_looked_for_and_pointed_at_is_marked() -> None:
    """Trim and tail are never looked for; one cut is pointed at."""
    stretches = drawn(BARS[12], mm(2500), METRIC, wanted=lambda piece: piece == "OY-305-3", marked=1)
    assert [one.order for one in stretches if one.wanted] == [2]
    assert [one.order for one in stretches if one.marked] == [1]
    assert not any(one.marked for one in drawn(BARS[12], mm(2500), METRIC))


def test_what_came_out_wrong_says_so() -> None:
    """A piece that is no good is told by a word, not by hatching alone."""
    wrong = replace(BARS[12], spoiled=(Spoiled(piece="OY-305-3", length=mm(580)),))
    pieces = [one for one in drawn(wrong, mm(2500), METRIC) if one.piece]
    assert [one.kind for one in pieces] == ["piece", "piece wrong"]
    assert pieces[1].label == "592 wrong"
    assert pieces[1].said.endswith("OY-305-3, came out wrong")
