"""Stop changes."""

from collections.abc import Sequence
from itertools import permutations

from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.domain.plan import Cut, PlannedBar, TailFate
from nesting.domain.rules import SawRules
from nesting.planning.sequence import held_cuts
from nesting.planning.stops import order_for_stops, stop_changes, stop_price
from nesting.units import Length, mm

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


def replay(bars: Sequence[PlannedBar], order: Sequence[int], cuts: Sequence[Sequence[int]]) -> int:
    """Count the changes of an order by setting the stop cut by cut."""
    return stop_changes([[bars[i].cuts[c].length for c in way] for i, way in zip(order, cuts, strict=True)])


def test_only_a_different_length_moves_the_stop() -> None:
    """610 610 | 610 420 | 420 610: moved twice, to 420 and back to 610."""
    assert stop_changes([[mm(610), mm(610)], [mm(610), mm(420)], [mm(420), mm(610)]]) == 2
    assert stop_changes([]) == 0
    assert stop_changes([[mm(610)]]) == 0


def test_bars_are_chained_by_their_stops() -> None:
    """610-420, 500-300, 420-500 in order move the stop 5 times; chained 3 times, as bars of two need."""
    bars = [bar(1, [610, 420]), bar(2, [500, 300]), bar(3, [500, 420])]
    # given: 610 420 | 500 300 | 500 420; chained: 610 420 | 420 500 | 500 300
    found = order_for_stops(bars, SAW)
    assert (found.bars, found.changes) == ((0, 2, 1), 3)
    assert replay(bars, found.bars, found.cuts) == 3
    price = stop_price(bars, SAW, cost=42)
    assert (price.value_before, price.value_after, price.lower_bound) == (5, 3, 3)
    assert (price.cost_before, price.cost_after) == (42, 42)


def test_the_grip_rule_comes_before_the_stop() -> None:
    """2300 must come last on its bar (common practice, no source), even where it would save a change."""
    bars = [bar(1, [60, 60, 2300]), bar(2, [2300, 60])]
    found = order_for_stops(bars, SAW)
    for i, cuts in zip(found.bars, found.cuts, strict=True):
        lengths = [bars[i].cuts[c].length for c in cuts]
        assert all(held_cuts(lengths, mm(2500), mm(8), SAW)) or list(cuts) == list(range(len(cuts)))
    assert found.cuts[found.bars.index(0)] == (0, 1, 2)


@settings(max_examples=80, deadline=None)
@given(st.lists(STOPS, min_size=1, max_size=5))
def test_the_order_is_honest_and_never_worse(stops: list[list[int]]) -> None:
    """Every bar once, every cut once, the count true, no more unheld cuts, and the bound below the least."""
    bars = [bar(i, some) for i, some in enumerate(stops)]
    found = order_for_stops(bars, SAW)
    assert sorted(found.bars) == list(range(len(bars)))
    for i, cuts in zip(found.bars, found.cuts, strict=True):
        assert sorted(cuts) == list(range(len(bars[i].cuts)))
    given = stop_changes([[cut.length for cut in b.cuts] for b in bars])
    assert replay(bars, found.bars, found.cuts) == found.changes <= given
    bound = stop_price(bars, SAW, cost=0).lower_bound
    assert bound is not None
    assert all(
        bound <= stop_changes([[cut.length for cut in b.cuts] for b in order]) for order in permutations(bars)
    )
    assert bound <= found.changes
