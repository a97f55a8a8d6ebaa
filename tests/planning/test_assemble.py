"""Bars with named cuts, and the saw's arithmetic on each of them."""

import pytest

from nesting.domain.packing import Packing, PatternUse
from nesting.domain.plan import PlannedBar, TailFate
from nesting.domain.problem import BarKind
from nesting.domain.rules import SawRules
from nesting.planning.assemble import account, assemble
from nesting.units import Length, inches, mm
from tests.planning.groups import group_of, pieces_of


def one_bar(length: Length, lengths: list[Length], saw: SawRules) -> PlannedBar:
    """Cut all the lengths from one bar."""
    kind = BarKind(key="stock:0", length=length, head=saw.head_trim, tail=saw.tail_loss)
    group = group_of(pieces_of(lengths), [kind], saw)
    problem = group.problem
    counts = tuple((i, problem.counts[i]) for i in range(len(problem.lengths)))
    bars = assemble(group, Packing((PatternUse(0, counts, 1),), ()), first_number=1, tag_prefix="K").bars
    return bars[0]


def test_four_610_in_2500() -> None:
    """Head 8, four pieces, four kerfs and an offcut of 40: 8 + 2440 + 12 + 40 = 2500 (common practice)."""
    saw = SawRules(kerf=mm(3), head_trim=mm(8), tail_loss=mm(8), keep_length=mm(400))
    bar = one_bar(mm(2500), [mm(610)] * 4, saw)
    assert [cut.face for cut in bar.cuts] == [mm(610), mm(1223), mm(1836), mm(2449)]
    assert (bar.strokes, bar.kerf_loss, bar.tail, bar.fate) == (5, mm(12), mm(40), TailFate.SCRAP)


def test_four_24_inch_in_a_metric_bar() -> None:
    """The inch twin: 98.425 in, trims 5/16, kerf 1/8, four 24 in leave 1.6125 in (common practice)."""
    saw = SawRules(kerf=inches("1/8"), head_trim=inches("5/16"), tail_loss=inches("5/16"))
    bar = one_bar(inches("98425/1000"), [inches(24)] * 4, saw)
    assert bar.tail == inches("16125/10000")


def test_exact_fit_needs_no_last_cut() -> None:
    """2000, clean ends: four 497.75 = 1991 and three kerfs = 9 use the bar up with three strokes."""
    bar = one_bar(mm(2000), [mm("497.75")] * 4, SawRules(kerf=mm(3)))
    assert (bar.strokes, bar.kerf_loss, bar.tail, bar.fate, bar.sliver) == (3, mm(9), 0, TailFate.NONE, False)


def test_exact_fit_in_inches() -> None:
    """96 in, kerf 1/8: four 23 29/32 in are exact."""
    bar = one_bar(inches(96), [inches("23 29/32")] * 4, SawRules(kerf=inches("1/8")))
    assert (bar.strokes, bar.tail) == (3, 0)


def test_sliver_is_told() -> None:
    """665 + 665 + 662 and two kerfs leave 2 mm of a 2000 bar: less than a kerf, the blade takes it all."""
    bar = one_bar(mm(2000), [mm(665), mm(665), mm(662)], SawRules(kerf=mm(3)))
    assert (bar.strokes, bar.sliver, bar.tail, bar.kerf_loss) == (3, True, 0, mm(8))


@pytest.mark.parametrize(("tail", "fate"), [("399", TailFate.SCRAP), ("400", TailFate.OFFCUT)])
def test_keep_length_decides_the_tail(tail: str, fate: TailFate) -> None:
    """A tail of at least the keep length becomes a tagged offcut, a shorter one is scrap."""
    saw = SawRules(kerf=mm(3), keep_length=mm(400))
    bar = one_bar(mm(2000), [Length(mm(2000) - mm(3) - mm(tail))], saw)
    assert (bar.tail, bar.fate, bool(bar.tail_tag)) == (mm(tail), fate, fate is TailFate.OFFCUT)


def test_identity_of_the_account() -> None:
    """Used = good + kerf + trim + returned + scrap, to the nanometre."""
    saw = SawRules(kerf=mm("3.2"), head_trim=mm(8), tail_loss=mm(8), keep_length=mm(400))
    bars = [one_bar(mm(2500), [mm(610)] * n, saw) for n in (1, 2, 3, 4)]
    total = account(bars)
    assert total.used == total.good + total.kerf + total.trim + total.returned + total.scrap
    assert (total.bars, total.good) == (4, mm(6100))
    # 2492 - n x 613.2: 1878.8, 1265.6 and 652.4 are kept, 39.2 is scrap
    assert (total.returned, total.scrap) == (mm("3796.8"), mm("39.2"))


def test_offcuts_first_and_units_in_order() -> None:
    """Offcuts are cut before new bars are opened; pieces of one length go out in the building's order."""
    saw = SawRules(kerf=mm(3))
    kinds = [
        BarKind(key="stock:0", length=mm(2500)),
        BarKind(key="FL-1", length=mm(700), cost=0, count=1, offcut=True),
    ]
    group = group_of(pieces_of([mm(600)] * 4), kinds, saw)
    packing = Packing((PatternUse(0, ((0, 3),), 1), PatternUse(1, ((0, 1),), 1)), (0,))
    done = assemble(group, packing, first_number=7, tag_prefix="K")
    assert [(bar.number, bar.source) for bar in done.bars] == [(7, "FL-1"), (8, "stock:0")]
    assert [cut.piece for bar in done.bars for cut in bar.cuts] == ["P1", "P2", "P3", "P4"]
    assert done.short == ()


def test_pieces_the_stock_cannot_give_are_named() -> None:
    """What a packing leaves short comes back piece by piece, the last of the building's order."""
    kinds = [BarKind(key="stock:0", length=mm(1000), count=1)]
    group = group_of(pieces_of([mm(900)] * 2), kinds, SawRules(kerf=mm(3)))
    done = assemble(group, Packing((PatternUse(0, ((0, 1),), 1),), (1,)), first_number=1, tag_prefix="K")
    assert [piece.id for piece in done.short] == ["P2"]
