"""The order of a group's bars: urgent first, few units open, gangs together, every piece still there."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.domain.goals import Goals
from nesting.domain.pieces import Piece
from nesting.domain.problem import BarKind
from nesting.domain.rules import SawRules
from nesting.domain.runs import Place
from nesting.planning.assemble import assemble, cutting_order
from nesting.planning.bar_order import most_open_of, order_bars, order_laid, unit_of
from nesting.planning.group import Group
from nesting.planning.settle import settle
from nesting.units import mm
from tests.planning.groups import MATERIAL, group_of

SAW = SawRules(kerf=mm(3), head_trim=mm(8), tail_loss=mm(8), keep_length=mm(400), grip=mm(150))
BAR = BarKind(key="stock:0", length=mm(2000), head=mm(8), tail=mm(8))


def group(rows: list[tuple[int, int]], goals: Goals) -> Group:
    """Give pieces as (length in mm, unit), in the order of the units."""
    pieces = [
        Piece(
            id=f"P{n}",
            job="J",
            run=f"P{n}",
            material=MATERIAL,
            length=mm(length),
            exact=mm(length),
            place=Place(unit=str(unit)),
        )
        for n, (length, unit) in enumerate(sorted(rows, key=lambda row: row[1]))
    ]
    return replace(group_of(pieces, [BAR], SAW), goals=goals)


ROWS = st.lists(
    st.tuples(st.sampled_from([450, 600, 640, 900, 1300]), st.integers(0, 4)), min_size=1, max_size=16
)


@settings(max_examples=40, deadline=None)
@given(rows=ROWS, gang=st.integers(1, 3), few=st.booleans(), urgent=st.sets(st.integers(0, 15), max_size=4))
def test_an_order_keeps_every_bar_and_every_piece(
    rows: list[tuple[int, int]], gang: int, few: bool, urgent: set[int]
) -> None:
    """Whatever is asked for, the same bars are cut, the same pieces freed, and no count gets worse."""
    asked = group(rows, Goals(gang=gang, open_units=few))
    ranks = {("J", f"P{n}"): int(n not in urgent) for n in range(len(rows))}
    first = sorted(asked.pieces, key=lambda piece: ranks[piece.job, piece.run])
    asked = replace(asked, pieces=tuple(first))
    best = settle(asked).result.best
    order = order_bars(asked, best, ranks=ranks, cost=7)
    plain, given_ = Counter[object](), Counter[object]()
    for use in best.uses:
        plain[use.bar, use.pieces] += use.times
    for block in order.blocks:
        assert block.times <= gang
        given_[block.bar, block.pieces] += block.times
    assert plain == given_
    made = assemble(order.group, best, first_number=1, tag_prefix="T", order=order.blocks)
    assert Counter(cut.piece for bar in made.bars for cut in bar.cuts) == Counter(p.id for p in first)
    assert all((price.cost_before, price.cost_after) == (7, 7) for price in order.goals)
    assert all(price.value_after <= price.value_before for price in order.goals)
    counts = {price.goal: price.value_after for price in order.goals}
    if few:
        assert counts["most open units"] == most_open_of(made.bars, order.group.pieces)


def test_an_urgent_piece_takes_the_first_bar() -> None:
    """Two 1300s would come first; the rush is a 450, and its bar comes before theirs."""
    asked = group([(1300, 0), (1300, 1), (450, 2), (900, 2)], Goals())
    ranks = {("J", piece.run): int(piece.length != mm(450)) for piece in asked.pieces}
    best = settle(asked).result.best
    order = order_bars(asked, best, ranks=ranks, cost=0)
    made = assemble(order.group, best, first_number=1, tag_prefix="T", order=order.blocks)
    assert mm(450) in {cut.length for cut in made.bars[0].cuts}


def test_without_goals_the_order_is_the_shop_s() -> None:
    """No goal and one rank: the blocks are the patterns in the order they always had, one bar each."""
    asked = group([(1300, 0), (900, 1), (900, 1), (450, 2)], Goals())
    best = settle(asked).result.best
    order = order_bars(asked, best, ranks={}, cost=0)
    bars = [(use.bar, use.pieces) for use in cutting_order(asked, best) for _ in range(use.times)]
    assert [(block.bar, block.pieces) for block in order.blocks] == bars
    assert order.goals == ()


def test_bars_laid_already_change_places_and_tags() -> None:
    """Numbers run on from the first, and a tail's tag goes by its bar's new number."""
    asked = group([(1300, 1), (900, 0), (900, 0), (1200, 1)], Goals(open_units=True))
    best = settle(asked).result.best
    bars = assemble(asked, best, first_number=5, tag_prefix="T").bars
    ranks = {("J", piece.run): int(piece.place.unit == "1") for piece in asked.pieces}
    moved, goals = order_laid(bars, asked, ranks=ranks, cost=3, tag_prefix="T")
    assert [bar.number for bar in moved] == list(range(5, 5 + len(bars)))
    assert {cut.length for cut in moved[0].cuts} == {mm(900)}
    assert all(bar.tail_tag in ("", f"T-{bar.number}") for bar in moved)
    assert [price.goal for price in goals] == ["bars until the urgent are cut", "most open units"]


def test_units_of_other_floors_are_other_units() -> None:
    """Unit 5 of floor 3 and unit 5 of floor 4 are finished apart; so are those of two jobs."""
    (piece,) = group([(900, 5)], Goals()).pieces
    names = {
        unit_of(piece),
        unit_of(replace(piece, job="K")),
        unit_of(replace(piece, place=Place(floor="4", unit="5"))),
        unit_of(replace(piece, place=Place(building="B", unit="5"))),
    }
    assert len(names) == 4
