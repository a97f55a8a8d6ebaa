"""Second goals of mitred material: bars change places whole, and no sloped last stroke is half in air."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.batch.run import plan_request
from nesting.domain.goals import GoalPrice, Goals, Slivers
from nesting.domain.mitre import Mitre
from nesting.domain.plan import GroupPlan
from nesting.domain.runs import Place, Run
from nesting.units import mm
from nesting.verify import violations
from tests.planning.mitred_shop import F45, SAW, leg, request

CORNER = Mitre(F45)
NO_LOSS = replace(SAW, tail_loss=mm(0), head_trim=mm(0))


def planned(*runs: Run, goals: Goals, bar: str = "5000", saw: object = SAW) -> GroupPlan:
    """Plan, audit, and give the one group."""
    plan = plan_request(request(*runs, bar=bar, goals=goals, saw=saw))
    assert violations(plan) == ()
    return plan.groups[0]


def of(group: GroupPlan, goal: str) -> GoalPrice:
    """Give what became of a goal."""
    return next(price for price in group.goals if price.goal == goal)


def legs(count: int) -> list[Run]:
    """Two legs for each of some units, the second legs of another length."""
    first = [leg(f"A{n}", "2840", right=CORNER) for n in range(count)]
    second = [leg(f"B{n}", "1960", left=CORNER) for n in range(count)]
    return [replace(run, place=Place(unit=run.id[1:])) for run in (*first, *second)]


def test_all_goals_together_are_told_and_cost_nothing() -> None:
    """Every goal that is asked for is told, also where mitred bars let nothing be done about it."""
    goals = Goals(fewer_patterns=True, gang=4, open_units=True, slivers=Slivers.FORBID)
    group = planned(*legs(6), goals=goals)
    assert {price.goal for price in group.goals} == {"slivers", "patterns", "most open units", "strokes"}
    assert all(price.price == 0 for price in group.goals)


def test_bars_of_one_unit_come_together() -> None:
    """The bars change places and are numbered anew; the count is the one of the new order."""
    runs = legs(8)
    plain, few = planned(*runs, goals=Goals()), planned(*runs, goals=Goals(open_units=True))
    price = of(few, "most open units")
    assert price.value_after == few.open_units
    assert price.value_after <= price.value_before == plain.open_units
    assert [bar.number for bar in few.bars] == [bar.number for bar in plain.bars]


def test_the_urgent_leg_is_cut_first() -> None:
    """A rush of the shorter legs comes before the longer ones, which the shop would cut first."""
    runs = [leg(f"A{n}", "4300", right=CORNER) for n in range(4)]
    runs.append(replace(leg("RUSH", "1960", right=CORNER), priority=1))
    group = planned(*runs, goals=Goals())
    assert any(cut.piece.startswith("RUSH") for cut in group.bars[0].cuts)
    assert of(group, "bars until the urgent are cut").value_after == 1


def test_a_sloped_bar_that_would_leave_a_sliver_is_cut_as_two() -> None:
    """A bar hardly longer than two legs need leaves a sliver; under the ban each leg takes its own."""
    runs = [leg(f"R{n}", "240", right=CORNER) for n in range(2)]
    (long,) = planned(*runs, goals=Goals(), saw=NO_LOSS).bars
    # From the last face on the centre line whole millimetres are tried, until the rest is a sliver.
    behind = long.length - max(cut.face for cut in long.cuts)
    for spare in range(1, 30):
        bar = str((long.length - behind) // 10**6 + spare)
        warned = planned(*runs, goals=Goals(), bar=bar, saw=NO_LOSS)
        if any(one.sliver for one in warned.bars):
            break
    assert (len(warned.bars), [one.sliver for one in warned.bars]) == (1, [True])
    group = planned(*runs, goals=Goals(slivers=Slivers.FORBID), bar=bar, saw=NO_LOSS)
    price = of(group, "slivers")
    assert (price.value_before, price.value_after, price.price) == (1, 0, 1)
    assert [one.sliver for one in group.bars] == [False, False]


@settings(max_examples=30, deadline=None)
@given(
    lengths=st.lists(st.tuples(st.integers(120, 480), st.booleans(), st.booleans()), min_size=1, max_size=6),
    tail=st.sampled_from([0, 1, 3]),
    angle=st.sampled_from(["22.5", "45"]),
)
def test_no_mitred_bar_leaves_a_sliver_under_the_ban(
    lengths: list[tuple[int, bool, bool]], tail: int, angle: str
) -> None:
    """On bars of 500 the last sloped stroke takes k / cos mu of metal, or the piece is left out."""
    mitre = Mitre(Fraction(angle))
    runs = [
        leg(f"R{n}", str(length), left=mitre if left else None, right=mitre if right else None)
        for n, (length, left, right) in enumerate(lengths)
    ]
    saw = replace(NO_LOSS, tail_loss=mm(tail), kerf=mm(3))
    plan = plan_request(request(*runs, bar="500", goals=Goals(slivers=Slivers.FORBID), saw=saw))
    assert violations(plan) == ()
    assert not any(bar.sliver for group in plan.groups for bar in group.bars)
