"""Gang cutting."""

from collections.abc import Sequence

import pytest

from nesting.domain.plan import Cut, PlannedBar, TailFate
from nesting.errors import ProblemError
from nesting.planning.gangs import gang_price, gang_strokes, gangs
from nesting.units import Length, mm


def bar(number: int, stops: Sequence[int], source: str = "stock:0") -> PlannedBar:
    """Give a bar of 2500 mm with these stop lengths and a tail."""
    return PlannedBar(
        number=number,
        source=source,
        offcut=not source.startswith("stock"),
        length=mm(2500),
        head=mm(8),
        tail_loss=mm(8),
        cuts=tuple(Cut(f"P{number}.{i}", mm(stop), mm(stop)) for i, stop in enumerate(stops)),
        strokes=1 + len(stops),
        kerf_loss=Length(len(stops) * mm(3)),
        tail=mm(40),
        fate=TailFate.SCRAP,
    )


def test_twenty_four_equal_bars_by_fours() -> None:
    """24 bars of 5 strokes (common practice, no source): 6 gangs of 5 strokes are 30, one by one 120."""
    assert gang_strokes([(24, 5)], 4) == 30
    assert gang_strokes([(24, 5)], 1) == 120


def test_a_last_gang_that_is_not_full_costs_the_same_strokes() -> None:
    """25 bars by fours are 7 gangs: 7 x 5 + 1 x 3 = 38."""
    assert gang_strokes([(25, 5), (2, 3)], 4) == 38


@pytest.mark.parametrize("gang", [0, -1])
def test_a_clamp_without_room_is_refused(gang: int) -> None:
    """No number of strokes is true for it."""
    with pytest.raises(ProblemError):
        gang_strokes([(1, 1)], gang)
    with pytest.raises(ProblemError):
        gangs([], gang)


def test_only_neighbours_with_the_same_settings_are_clamped() -> None:
    """Cutting order is kept, and an offcut is never clamped with another bar."""
    bars = [bar(1, [610]), bar(2, [610]), bar(3, [610]), bar(4, [500]), bar(5, [610]), bar(6, [610], "R-7")]
    assert [[b.number for b in gang] for gang in gangs(bars, 2)] == [[1, 2], [3], [4], [5], [6]]


def test_the_price_of_gangs_is_nothing() -> None:
    """24 bars stand in order; clamping moves no piece, so the cost stays and 120 strokes become 30."""
    price = gang_price([bar(i, [610] * 4) for i in range(1, 25)], 4, cost=24)
    assert (price.cost_before, price.cost_after) == (24, 24)
    assert (price.value_before, price.value_after, price.lower_bound) == (120, 30, 30)


def test_scattered_bars_leave_room_for_a_better_order() -> None:
    """Equal bars apart are two gangs of 2 strokes, together they would be one: 6 against a bound of 4."""
    price = gang_price([bar(1, [610]), bar(2, [500]), bar(3, [610])], 4, cost=3)
    assert (price.value_after, price.lower_bound, price.proved) == (6, 4, False)
