"""Strip cut from reels, article by article."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from fractions import Fraction

from nesting.domain.material import Family
from nesting.domain.pieces import StripCut
from nesting.domain.reels import ReelCut
from nesting.domain.request import Request
from nesting.domain.rules import DEFAULT_SAW
from nesting.domain.runs import Run
from nesting.planning.reels import Article, article_of, clear_order, pieces_of, plan_reels
from nesting.takeoff.reels import cuts_at_solder_joints
from nesting.units import NO_LENGTH, Length, mm

PITCH = Fraction(mm(50))
FAMILY = Family(name="F", strip_pitch=PITCH, strip_name="W-24", strip_reel=mm(5000), strip_solder=mm(500))


def strip(run: str, marks: int, quantity: int = 1, parts: tuple[int, ...] = ()) -> StripCut:
    length = Length(int(marks * PITCH))
    return StripCut(
        job="J",
        run=run,
        quantity=quantity,
        marks=marks,
        length=length,
        dark=NO_LENGTH,
        for_next_mark=length,
        parts=parts,
    )


def request(*families: Family) -> Request:
    runs = tuple(Run(job="J", id=family.name, family=family.name, length=mm(900)) for family in families)
    return Request(runs=runs, families=families, saw=DEFAULT_SAW)


def test_pieces_of_one_article_share_reels() -> None:
    """Two families with one article: 3 x 60 and 3 x 40 marks fill three reels of 100 exactly."""
    other = replace(FAMILY, name="G")
    (plan,) = plan_reels(request(FAMILY, other), (strip("F", 60, 3), strip("G", 40, 3)))
    assert (plan.strip, plan.marks, len(plan.reels), plan.bound, plan.proved) == ("W-24", 100, 3, 3, True)
    assert [sorted(cut.marks for cut in reel.cuts) for reel in plan.reels] == [[40, 60]] * 3
    assert [reel.rest for reel in plan.reels] == [0, 0, 0]
    cut = Counter((c.run, c.copy) for reel in plan.reels for c in reel.cuts)
    assert cut == {(run, copy): 1 for run in "FG" for copy in (1, 2, 3)}


def test_another_pitch_is_another_reel() -> None:
    """Marks of two pitches never lie on one reel."""
    other = replace(FAMILY, name="G", strip_pitch=Fraction(mm(100)))
    plans = plan_reels(request(FAMILY, other), (strip("F", 10), strip("G", 10)))
    assert [(plan.marks, len(plan.reels)) for plan in plans] == [(100, 1), (50, 1)]


def test_a_reel_nobody_names_is_not_planned() -> None:
    """The strip is counted in metres all the same."""
    assert plan_reels(request(replace(FAMILY, strip_reel=None)), (strip("F", 10),)) == ()
    assert article_of(None) is None
    assert article_of(FAMILY) == Article("W-24", PITCH, mm(5000), mm(500), NO_LENGTH)


def test_every_part_is_a_piece() -> None:
    """A strip in two circuits is two pieces in each fixture."""
    assert tuple(pieces_of(strip("r", 59, 2, (30, 29)))) == tuple(
        ReelCut(job="J", run="r", copy=copy, part=part, marks=marks)
        for copy in (1, 2)
        for part, marks in ((1, 30), (2, 29))
    )


def test_cuts_are_led_round_the_solder_joints() -> None:
    """Joints every 10 marks: 13 + 17 meets one at 30; 17 + 5 + 13 meets none (17, 22, 35)."""
    marks = (13, 17, 5)
    order = clear_order(marks, PITCH, mm(500), mm(12))
    assert sorted(order) == [0, 1, 2]
    laid = tuple(marks[i] for i in order)
    assert cuts_at_solder_joints(laid, PITCH, mm(500), mm(12)) == ()
    # Soldered leads may sit on a joint, so nothing is moved.
    assert clear_order(marks, PITCH, mm(500), NO_LENGTH) == (0, 1, 2)
    assert clear_order(marks, PITCH, None, mm(12)) == (0, 1, 2)
