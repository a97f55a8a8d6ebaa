"""Stop changes."""

from collections.abc import Sequence
from dataclasses import replace
from itertools import permutations, product

from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.domain.plan import Cut, PlannedBar, TailFate
from nesting.domain.problem import BarKind
from nesting.domain.rules import SawRules
from nesting.planning.sequence import held_cuts
from nesting.planning.stops import order_for_stops, stop_changes, with_stop_order
from nesting.units import Length, mm
from tests.planning.groups import group_of, pieces_of

SAW = SawRules(kerf=mm(3), head_trim=mm(8), tail_loss=mm(8), keep_length=mm(400), grip=mm(150))
STOPS = st.lists(st.sampled_from([60, 300, 420, 610]), min_size=1, max_size=3)


def bar(number: int, stops: Sequence[int], length: int = 2500) -> PlannedBar:
    """Give a bar with these stop lengths."""
    return PlannedBar(
        number=number,
        source="stock:0",
        offcut=False,
        length=mm(length),
        head=mm(8),
        tail_loss=mm(8),
        cuts=tuple(Cut(f"P{number}.{i}", mm(stop), mm(stop)) for i, stop in enumerate(stops)),
        strokes=1 + len(stops),
        kerf_loss=Length(len(stops) * mm(3)),
        tail=mm(40),
        fate=TailFate.SCRAP,
    )


def replay(bars: Sequence[PlannedBar], cuts: Sequence[Sequence[int]]) -> int:
    """Count the changes of an order by setting the stop cut by cut."""
    return stop_changes([[bar.cuts[c].length for c in way] for bar, way in zip(bars, cuts, strict=True)])


def test_only_a_different_length_moves_the_stop() -> None:
    """610 610 | 610 420 | 420 610: moved twice, to 420 and back to 610."""
    assert stop_changes([[mm(610), mm(610)], [mm(610), mm(420)], [mm(420), mm(610)]]) == 2
    assert stop_changes([]) == 0
    assert stop_changes([[mm(610)]]) == 0


def test_a_bar_begins_where_the_one_before_has_left_the_stop() -> None:
    """610 420 | 610 420 | 610 300 moves the stop 5 times; 610 420 | 420 610 | 610 300 moves it 3 times."""
    bars = [bar(1, [610, 420]), bar(2, [610, 420]), bar(3, [610, 300])]
    found = order_for_stops(bars, SAW)
    assert (found.cuts, found.changes) == (((0, 1), (1, 0), (0, 1)), 3)


def test_a_bar_ends_with_what_the_next_can_begin_with() -> None:
    """420 and 300 may close the first bar; 420 does, since the second has no 300."""
    bars = [bar(1, [610, 420, 300]), bar(2, [500, 420])]
    found = order_for_stops(bars, SAW)
    # 610 300 420 | 420 500 moves it three times, 610 420 300 | 500 420 four times
    assert found.changes == 3
    assert [bars[0].cuts[c].length for c in found.cuts[0]] == [mm(610), mm(300), mm(420)]


def test_bars_are_cut_anew_with_their_price() -> None:
    """Two bars alike: 610 420 610 420 are three moves, 610 420 420 610 two, and fewer no bars can have."""
    stops = [mm(610), mm(420), mm(610), mm(420)]
    group = group_of(pieces_of(stops), [BarKind(key="stock:0", length=mm(2500), head=mm(8), tail=mm(8))], SAW)
    bars = [
        replace(bar(1, [610, 420]), cuts=(Cut("P1", mm(610), mm(610)), Cut("P2", mm(420), mm(1033)))),
        replace(bar(2, [610, 420]), cuts=(Cut("P3", mm(610), mm(610)), Cut("P4", mm(420), mm(1033)))),
    ]
    made, price = with_stop_order(bars, group, cost=42)
    assert [[cut.piece for cut in one.cuts] for one in made] == [["P1", "P2"], ["P4", "P3"]]
    # the second bar's faces: 420, then 420 + 3 + 610
    assert [cut.face for cut in made[1].cuts] == [mm(420), mm(1033)]
    assert (price.value_before, price.value_after, price.lower_bound) == (3, 2, 2)
    assert (price.cost_before, price.cost_after) == (42, 42)


def test_the_grip_rule_comes_before_the_stop() -> None:
    """60 is sawn while 2300 holds the bar (common practice, no source), though 2300 first saves a move."""
    bars = [bar(1, [60, 2300]), bar(2, [60, 2300])]
    found = order_for_stops(bars, SAW)
    assert found.cuts == ((0, 1), (0, 1))
    for one, cuts in zip(bars, found.cuts, strict=True):
        assert all(held_cuts([one.cuts[c].length for c in cuts], one.length, one.head, SAW))


@settings(max_examples=80, deadline=None)
@given(st.lists(STOPS, min_size=1, max_size=4))
def test_the_order_is_honest_and_never_worse(stops: list[list[int]]) -> None:
    """Every cut once, the count true, and the stop never moved more often than before."""
    bars = [bar(i, some) for i, some in enumerate(stops)]
    found = order_for_stops(bars, SAW)
    for one, cuts in zip(bars, found.cuts, strict=True):
        assert sorted(cuts) == list(range(len(one.cuts)))
    given = stop_changes([[cut.length for cut in b.cuts] for b in bars])
    assert replay(bars, found.cuts) == found.changes <= given


@given(st.lists(STOPS, min_size=1, max_size=4))
def test_the_bound_is_below_every_order(stops: list[list[int]]) -> None:
    """What is proved of the moves holds for every order of the cuts of each bar."""
    pieces = pieces_of([mm(stop) for some in stops for stop in some])
    names = iter(piece.id for piece in pieces)
    bars = [
        replace(one, cuts=tuple(replace(cut, piece=next(names)) for cut in one.cuts))
        for one in (bar(i, some) for i, some in enumerate(stops))
    ]
    group = group_of(pieces, [BarKind(key="stock:0", length=mm(2500), head=mm(8), tail=mm(8))], SAW)
    _, price = with_stop_order(bars, group, cost=0)
    ways = product(*(permutations(range(len(b.cuts))) for b in bars))
    assert price.lower_bound is not None
    assert price.lower_bound <= min(replay(bars, way) for way in ways)
