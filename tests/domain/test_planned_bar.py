"""What a bar gave: stops, tails kept or scrapped, spoiled pieces and good stretches, as found."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from nesting.domain.made import Spoiled, Zone
from nesting.domain.planned_bar import Cut, PlannedBar, TailFate
from nesting.units import Length, mm

# 8 head, 600 and 700 good with 3 kerf before and 3 behind the second, so 2000 - 8 - 600 - 3 - 700 - 3 = 686.
BAR = PlannedBar(
    number=1,
    source="stock:0",
    offcut=False,
    length=mm(2000),
    head=mm(8),
    tail_loss=mm(8),
    cuts=(Cut("A", mm(600), mm(600)), Cut("B", mm(700), mm(1303))),
    strokes=3,
    kerf_loss=mm(6),
    tail=mm(686),
    fate=TailFate.OFFCUT,
    tail_tag="R-1",
)


def adds_up(bar: PlannedBar) -> bool:
    """Tell whether all metal of a bar is accounted for."""
    good = sum(cut.length for cut in bar.good_cuts)
    return bar.length == good + bar.kerf_loss + bar.head + bar.returned + bar.scrap


def test_the_stop_of_a_mitred_piece_is_its_long_point() -> None:
    """The saw's stop meets the tip; set to the centre line, the piece would be short."""
    square = Cut("A", mm(600), mm(600))
    mitred = replace(square, long_point=mm(617), slope_end=Fraction(45))
    assert (square.stop, square.sloped) == (mm(600), False)
    assert (mitred.stop, mitred.sloped) == (mm(617), True)


def test_a_tail_is_returned_or_scrap() -> None:
    """A bar's account closes whichever of the two its tail becomes."""
    assert (BAR.returned, BAR.scrap) == (mm(686), 0)
    thrown = replace(BAR, fate=TailFate.SCRAP, tail_tag="")
    assert (thrown.returned, thrown.scrap) == (0, mm(686))
    assert adds_up(BAR)
    assert adds_up(thrown)


def test_a_spoiled_piece_is_no_good_piece() -> None:
    """What is kept of it goes back to the rack, what is not is scrap."""
    scrapped = replace(BAR, spoiled=(Spoiled("B"),))
    assert [cut.piece for cut in scrapped.good_cuts] == ["A"]
    assert (scrapped.returned, scrapped.scrap) == (mm(686), mm(700))
    kept = replace(BAR, spoiled=(Spoiled("B", length=mm(690), tag="R-2"),))
    # By the planned length, 700, so that the account still closes; the tag carries the 690.
    assert (kept.returned, kept.scrap) == (mm(1386), 0)
    assert adds_up(scrapped)
    assert adds_up(kept)


def test_clear_stretches_of_a_stopped_bar_are_returned() -> None:
    """Of 1389 mm behind the first cut, 900 have a tag; the rest is scrap."""
    stopped = replace(
        BAR,
        cuts=BAR.cuts[:1],
        strokes=2,
        kerf_loss=mm(3),
        tail=Length(0),
        fate=TailFate.NONE,
        tail_tag="",
        zones=(Zone(mm(1100), mm(900), "R-3"), Zone(mm(700), mm(100))),
    )
    assert (stopped.returned, stopped.scrap) == (mm(900), mm(489))
    assert adds_up(stopped)


def test_a_measured_tail_counts_before_the_planned_one() -> None:
    """What lies on the bench is what it is."""
    assert BAR.tail_left == mm(686)
    assert replace(BAR, true_tail=mm(684)).tail_left == mm(684)
