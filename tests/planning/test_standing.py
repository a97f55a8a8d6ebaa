"""Tests of nesting.planning.standing, report_faults and offers."""

from __future__ import annotations

from dataclasses import replace

import pytest

from nesting.domain.made import BarState, Span
from nesting.domain.plan import Plan, TailFate
from nesting.domain.report import BarReport, Miscut, Outcome
from nesting.domain.runs import EndCondition
from nesting.domain.stock import EndState
from nesting.errors import InputRefused
from nesting.planning.offers import spoiled_offers
from nesting.planning.report_faults import report_faults, tail_range
from nesting.planning.standing import standing_after, without
from nesting.units import mm
from tests.batch.shop import SAW, bar_with, bars_of, done, order, planned, report

# The 500 lies behind one of the 1400; the other bar leaves 589.
PLAN = planned(order({1400: 2, 500: 1}, bars={2000: "11.40"}, offcuts={"R-1": 300}))
BOTH = bar_with(PLAN, "L500.1")
ALONE = next(bar for bar in bars_of(PLAN).values() if bar.number != BOTH.number)


def test_what_a_report_leaves_open() -> None:
    """Done bars are kept, untouched ones open, the spoiled piece comes back."""
    standing = standing_after(PLAN, report(PLAN, done(BOTH, L500_1=mm(480))))
    assert [one.bar.number for one in standing.kept] == [BOTH.number]
    assert [one.bar for one in standing.open] == [ALONE]
    assert [piece.id for piece in standing.back] == ["L500.1"]
    tag = f"{PLAN.id[:6].upper()}-{BOTH.number}S1"
    assert standing.spoiled == (tag,)
    # The tail was 86 and is 20 longer, still scrap; the 480 can be kept.
    (bar,) = (one.bar for one in standing.kept)
    assert (bar.true_tail, bar.fate) == (mm(106), TailFate.SCRAP)
    assert {offcut.tag: offcut.length for offcut in standing.request.offcuts} == {
        "R-1": mm(300),
        tag: mm(480),
    }
    assert standing.passing == frozenset()


def test_a_tail_born_long_enough_is_on_the_rack() -> None:
    """It has the tag that was planned for it, one clean end, and the place is for the shop to say."""
    standing = standing_after(PLAN, report(PLAN, done(ALONE)))
    (offcut,) = (offcut for offcut in standing.request.offcuts if offcut.tag == ALONE.tail_tag)
    assert (offcut.length, offcut.left, offcut.right) == (mm(589), EndState.CLEAN, EndState.RAW)


def test_a_tail_that_has_gone_since_is_not_planned_on() -> None:
    """The bar keeps the tag it gave; the rack has it no more."""
    said = report(PLAN, done(ALONE), lost=(ALONE.tail_tag,))
    assert not list(report_faults(PLAN, said))
    standing = standing_after(PLAN, said)
    assert ALONE.tail_tag not in {offcut.tag for offcut in standing.request.offcuts}
    assert ALONE.tail_tag in {one.bar.tail_tag for one in standing.kept}


def test_a_mitred_end_of_a_spoiled_piece_has_to_be_cut_square() -> None:
    """Ends that are straight are clean faces; a slope costs what a raw end costs."""
    pieces = tuple(
        replace(piece, left=EndCondition.MITRE) if piece.id == "L500.1" else piece for piece in PLAN.pieces
    )
    mitred = replace(PLAN, pieces=pieces)
    standing = standing_after(mitred, report(mitred, done(BOTH, L500_1=mm(480))))
    spoiled = next(offcut for offcut in standing.request.offcuts if offcut.tag in standing.spoiled)
    assert (spoiled.left, spoiled.right) == (EndState.RAW, EndState.CLEAN)


def test_tags_are_never_given_twice() -> None:
    """A tag that somebody has brought from elsewhere is passed over."""
    taken = f"{PLAN.id[:6].upper()}-{BOTH.number}S1"
    rack = (replace(PLAN.request.offcuts[0], tag=taken),)
    plan = replace(PLAN, request=replace(PLAN.request, offcuts=rack))
    assert standing_after(plan, report(plan, done(BOTH, L500_1=mm(480)))).spoiled == (f"{taken[:-1]}2",)


def test_short_leftovers_are_scrap_unless_used() -> None:
    """A 390 that nobody uses at once goes into the bin; used, it keeps its tag."""
    standing = standing_after(PLAN, report(PLAN, done(BOTH, L500_1=mm(390))))
    (tag,) = standing.passing
    binned = without(standing, [ALONE])
    assert tag not in {offcut.tag for offcut in binned.request.offcuts}
    assert binned.kept[0].bar.spoiled[0].tag == ""
    used = without(standing, [replace(ALONE, source=tag, offcut=True)])
    assert used.kept[0].bar.spoiled[0].tag == tag


def test_what_was_left_out_before_comes_back_too() -> None:
    """A tail or a spoiled piece may be what it was waiting for."""
    plan: Plan = planned(order({1900: 2}, bars={2000: "11.40"}, count=1))
    out = plan.unplaced[0].piece
    assert [piece.id for piece in standing_after(plan, report(plan)).back] == [out]


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        # 86 by its cuts; 1 for the tape, 5 of over-measure on 2000.
        (done(BOTH), (85, 92)),
        # 20 shorter: 20 more is left.
        (done(BOTH, L500_1=mm(480)), (105, 112)),
        (done(BOTH, L500_1=mm(510)), (75, 82)),
        # Nobody knows what became of it: anything up to its length and a stroke more.
        (done(BOTH, L500_1=None), (0, 595)),
    ],
)
def test_the_tails_a_bar_can_have(said: BarReport, expected: tuple[int, int]) -> None:
    """Measured less expected lies between 0 and the over-measure, give or take what a tape shows."""
    assert tail_range(BOTH, SAW, said) == tuple(mm(length) for length in expected)


def test_a_saw_with_steps_may_be_off_by_one_at_each_cut() -> None:
    """Two cuts on a saw with steps of 0.5: 1 more either way."""
    assert tail_range(BOTH, replace(SAW, step=mm("0.5")), done(BOTH)) == (mm(84), mm(93))


def test_an_offcut_has_no_over_measure() -> None:
    """It was measured."""
    assert tail_range(replace(BOTH, offcut=True), SAW, done(BOTH)) == (mm(85), mm(87))


def test_a_short_bar_may_have_left_any_shorter_tail() -> None:
    """How short it was nobody can measure once it is cut; longer than a whole bar's tail it is not."""
    short = replace(done(BOTH, tail=mm(40)), short=True)
    assert tail_range(BOTH, SAW, short) == (mm(0), tail_range(BOTH, SAW, done(BOTH))[1])


def test_every_fault_is_told_at_once() -> None:
    """The operator is asked once, not five times."""
    said = report(
        PLAN,
        BarReport(bar=77, outcome=Outcome.DONE),
        BarReport(bar=ALONE.number, outcome=Outcome.DONE, tail=mm(100)),
        BarReport(bar=BOTH.number, outcome=Outcome.DONE, miscuts=(Miscut("L500.1", mm(2100)),)),
        lost=("R-9",),
    )
    codes = ["unknown-offcut", "unknown-bar", "tail-out-of-range", "miscut-length"]
    assert [fault.code for fault in report_faults(PLAN, said)] == codes
    with pytest.raises(InputRefused):
        standing_after(PLAN, said)


def test_a_long_piece_before_damage_is_reported_as_damage() -> None:
    """Where the clear metal begins would not be known otherwise."""
    hurt = BarReport(
        bar=BOTH.number,
        outcome=Outcome.STOPPED,
        made=1,
        miscuts=(Miscut("L1400.1" if BOTH.cuts[0].piece == "L1400.1" else "L1400.2", mm(1410)),),
        defects=(Span(mm(1600), mm(1610)),),
    )
    assert [fault.code for fault in report_faults(PLAN, report(PLAN, hurt))] == ["damage-behind-long-piece"]


def test_a_spoiled_piece_is_offered_to_every_open_piece_it_can_become() -> None:
    """A 1400 came out as 1390: it can become the 500 that is lost, with 887 left, but no 1400."""
    first = done(ALONE, **{ALONE.cuts[0].piece.replace(".", "_"): mm(1390)})
    second = done(BOTH, L500_1=None)
    standing = standing_after(PLAN, report(PLAN, first, second))
    pieces = {piece.id: piece for piece in PLAN.pieces}
    (offer,) = spoiled_offers(standing, pieces, standing.kept)
    assert [(c.piece, c.left) for c in offer.choices] == [("L500.1", mm(887))]
    assert offer.becomes == ()
    assert all(one.bar.state is BarState.DONE for one in standing.kept)
