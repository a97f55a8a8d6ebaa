"""What is left over, in one long tail."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import example, given, settings
from hypothesis import strategies as st

from nesting.domain.goals import GoalPrice, Goals, Slivers
from nesting.domain.packing import Packing, PatternUse
from nesting.domain.plan import Plan
from nesting.domain.problem import BarKind, Problem
from nesting.domain.request import Request
from nesting.planning.long_tail import LONGEST_TAIL, longest_tail, tail_price
from nesting.units import mm
from tests.batch.shop import order, planned

BARS = {2000: "11.40"}


def tails(plan: Plan) -> list[int]:
    """Give all tails, the longest first."""
    return sorted((int(bar.tail) for group in plan.groups for bar in group.bars), reverse=True)


def asked(request: Request, **goals: bool | Slivers) -> Plan:
    """Plan with some second goals."""
    return planned(replace(request, goals=Goals(**goals)))  # type: ignore[arg-type]


def test_several_middling_tails_become_one_long_one() -> None:
    """Three bars of 706, 3 x 517, 2 x 895, 3 x 412: tails of 432 and less become 574, 54 and 38."""
    request = order({706: 1, 517: 3, 895: 2, 412: 3}, bars=BARS)
    plain, long = planned(request), asked(request, long_tail=True)
    assert long.groups[0].cost == plain.groups[0].cost
    assert long.totals.scrap <= plain.totals.scrap
    # 895 + 517 on one bar: 2000 - 8 - 895 - 3 - 517 - 3 = 574
    assert tails(long)[0] == mm(574) > tails(plain)[0]
    (price,) = long.groups[0].goals
    assert (price.goal, price.value_after, price.price) == (LONGEST_TAIL, mm(574), 0)


def test_fewer_patterns_do_not_take_the_tail_again() -> None:
    """Both goals at once: the tail comes first, as it is worth metal."""
    request = order({706: 1, 517: 3, 895: 2, 412: 3}, bars=BARS)
    both = asked(request, long_tail=True, fewer_patterns=True)
    assert tails(both)[0] == mm(574)


@settings(max_examples=15, deadline=None)
@example({300: 1, 400: 4}, False)  # the piece that stood for the tail took the offcut for itself
@given(st.dictionaries(st.integers(300, 1100), st.integers(1, 4), min_size=1, max_size=4), st.booleans())
def test_a_long_tail_never_costs_anything(lengths: dict[int, int], forbid: bool) -> None:
    """No bar more, no scrap more, no shorter tail, whatever is cut; the audit agrees."""
    request = order(lengths, bars=BARS, offcuts={"A": 1500})
    slivers = Slivers.FORBID if forbid else Slivers.WARN
    plain, long = asked(request, slivers=slivers), asked(request, long_tail=True, slivers=slivers)
    assert long.groups[0].cost == plain.groups[0].cost
    assert long.totals.scrap <= plain.totals.scrap
    assert tails(long)[0] >= tails(plain)[0]


def test_the_longest_tail_of_a_packing() -> None:
    """100 less 60 less a stroke of 2 leaves 38; nothing cut leaves nothing."""
    problem = Problem(
        name="P", lengths=(mm(60),), counts=(1,), bars=(BarKind(key="b", length=mm(100)),), kerf=mm(2)
    )
    assert longest_tail(problem, Packing((PatternUse(0, ((0, 1),), 1),), (0,))) == mm(38)
    assert longest_tail(problem, Packing((), (0,))) == 0


def test_the_price_tells_the_tail_the_bars_really_have() -> None:
    """A goal pursued later may have made it longer; bars of mitred pieces are told as they are laid."""
    bars = planned(order({700: 1}, bars=BARS)).groups[0].bars
    # 2000 - 8 - 700 - 3 = 1289
    (price,) = tail_price(bars, (), cost=5)
    assert (price.value_before, price.value_after, price.cost_after) == (mm(1289), mm(1289), 5)
    told = GoalPrice(goal=LONGEST_TAIL, cost_before=5, cost_after=5, value_before=1, value_after=2)
    (after,) = tail_price(bars, (told,), cost=5)
    assert (after.value_before, after.value_after) == (1, mm(1289))
