"""The order of the bars after a report: what is done first, few units open, urgent pieces in front."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import permutations

from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.domain.goals import Goals
from nesting.domain.made import BarState
from nesting.domain.pieces import Piece
from nesting.domain.plan import PlannedBar
from nesting.domain.problem import BarKind
from nesting.domain.rules import SawRules
from nesting.domain.runs import Place
from nesting.planning.assemble import sawn_bar
from nesting.planning.bar_order import most_open_of
from nesting.planning.replan_order import order_after_report
from nesting.units import Length, mm
from tests.planning.groups import MATERIAL

FEW = Goals(open_units=True)
KIND = BarKind(key="stock:0", length=mm(2000))
SAW = SawRules(kerf=mm(3))


def shop(
    *bars: str, cut: Sequence[int] = (), frozen: Sequence[int] = ()
) -> tuple[list[PlannedBar], dict[str, Piece]]:
    """Give bars numbered from 1, a letter a piece: the unit it is for; and the pieces."""
    pieces: dict[str, Piece] = {}
    made = []
    for number, units in enumerate(bars, 1):
        own = [
            Piece(
                id=f"{number}{unit}{at}",
                job="J",
                run=unit,
                material=MATERIAL,
                length=mm(300),
                exact=mm(300),
                place=Place(unit=unit),
            )
            for at, unit in enumerate(units)
        ]
        pieces.update((piece.id, piece) for piece in own)
        rest = Length(mm(2000) - len(own) * mm(303) + mm(3))
        state = BarState.DONE if number in cut else BarState.FROZEN if number in frozen else BarState.OPEN
        made.append(replace(sawn_bar(number, KIND, own, rest, SAW, f"T-{number}"), state=state))
    return made, pieces


def numbers(
    bars: Sequence[PlannedBar],
    pieces: Mapping[str, Piece],
    *,
    goals: Goals = FEW,
    ranks: Mapping[tuple[str, str], int] | None = None,
    before: Sequence[int] = (),
) -> list[int]:
    """Give the numbers of the bars in their new order."""
    order = order_after_report(bars, pieces, goals=goals, ranks=ranks or {}, before=before)
    assert sorted(order, key=lambda bar: bar.number) == list(bars)
    return [bar.number for bar in order]


def test_without_the_goal_nothing_moves() -> None:
    """Who did not ask for few open units finds the bars by their numbers."""
    bars, pieces = shop("A", "B", "A", cut=[2])
    assert numbers(bars, pieces, goals=Goals()) == [1, 2, 3]


def test_what_is_begun_is_finished_first() -> None:
    """The bar that was added for unit A comes at once, not behind B and C as its number says."""
    bars, pieces = shop("A", "B", "C", "A", cut=[1])
    assert numbers(bars, pieces, before=[1, 2, 3]) == [1, 4, 2, 3]


def test_cut_and_frozen_bars_come_first_as_they_came() -> None:
    """Bar 4 is cut and 3 is set up at the saw, whatever would be better now."""
    bars, pieces = shop("AB", "AB", "CD", "EF", cut=[4], frozen=[3])
    assert numbers(bars, pieces) == [4, 3, 1, 2]


def test_a_good_order_stays() -> None:
    """Where nothing is gained the bars keep the order of the last list, not that of their numbers."""
    bars, pieces = shop("A", "B", "C")
    assert numbers(bars, pieces, before=[3, 1, 2]) == [3, 1, 2]


def test_urgent_pieces_come_before_few_open_units() -> None:
    """Unit C is wanted first; only behind it the begun unit A is gone on with."""
    bars, pieces = shop("A", "B", "C", "A", cut=[1])
    ranks = {("J", unit): int(unit != "C") for unit in "ABC"}
    assert numbers(bars, pieces, ranks=ranks) == [1, 3, 4, 2]


def test_a_gang_stays_together() -> None:
    """Bars 2 and 3 are clamped at once, so A's last bar comes before or behind both of them."""
    bars, pieces = shop("A", "BB", "CC", "A", cut=[1])
    assert numbers(bars, pieces, goals=Goals(open_units=True, gang=2)) == [1, 4, 2, 3]


@settings(max_examples=60, deadline=None)
@given(
    held=st.lists(st.text("ABCDE", min_size=1, max_size=3), min_size=1, max_size=6),
    cut=st.sets(st.integers(1, 6), max_size=3),
    frozen=st.sets(st.integers(1, 6), max_size=2),
)
def test_no_order_of_the_open_bars_keeps_fewer_units_open(
    held: list[str], cut: set[int], frozen: set[int]
) -> None:
    """Every order of the open bars behind the others is tried beside it."""
    bars, pieces = shop(*held, cut=sorted(cut), frozen=sorted(frozen))
    order = order_after_report(bars, pieces, goals=FEW, ranks={})
    fixed = [bar for bar in order if bar.state is not BarState.OPEN]
    still_open = [bar for bar in order if bar.state is BarState.OPEN]
    assert list(order) == fixed + still_open
    best = min(most_open_of([*fixed, *some], tuple(pieces.values())) for some in permutations(still_open))
    assert most_open_of(order, tuple(pieces.values())) == best
