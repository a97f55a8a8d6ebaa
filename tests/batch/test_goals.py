"""Second goals through the main job: what each gains, what it costs, and that the plan stays right."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.batch.pool import Limits
from nesting.batch.replan import replan
from nesting.batch.run import plan_request
from nesting.domain.goals import PLAIN_GOALS, GoalPrice, Goals, Slivers
from nesting.domain.material import CapStyle, Family, LotRule, SplitRule
from nesting.domain.plan import GroupPlan, Plan
from nesting.domain.report import BarReport, Miscut, Outcome, ShopReport
from nesting.domain.request import Request
from nesting.domain.rules import SawRules
from nesting.domain.runs import PieceLine, Place, Run
from nesting.domain.stock import Offcut, StockLine
from nesting.money import read_money
from nesting.planning.open_units import completion
from nesting.units import mm
from nesting.verify import violations
from nesting.verify.certificate import check_proofs

SAW = SawRules(kerf=mm(3), head_trim=mm(8), tail_loss=mm(8), keep_length=mm(400), grip=mm(150))
CLEAN = SawRules(kerf=mm(3), keep_length=mm(400))


def line(name: str, length: int, quantity: int = 1, **more: object) -> PieceLine:
    """One line of a piece list of the only material."""
    return PieceLine(job="yard", id=name, family="F", quantity=quantity, length=mm(length), **more)  # type: ignore[arg-type]


def asked(*lines: PieceLine, bar: int = 2500, count: int | None = None, saw: SawRules = SAW) -> Request:
    """Ask for pieces from priced bars of one length."""
    stock = StockLine(family="F", length=mm(bar), price=read_money("14.00"), count=count)
    return Request(piece_lines=lines, stock=(stock,), saw=saw)


def planned(request: Request, goals: Goals = PLAIN_GOALS) -> Plan:
    """Plan, audit once more, and check every proof."""
    plan = plan_request(replace(request, goals=goals), Limits(processes=1))
    assert violations(plan) == ()
    assert check_proofs(plan).hold
    return plan


def price_of(group: GroupPlan, goal: str) -> GoalPrice:
    """Give what became of a goal."""
    return next(price for price in group.goals if price.goal == goal)


def units_of(plan: Plan, group: GroupPlan) -> list[set[str]]:
    """Give the units that have a piece on each bar."""
    unit = {piece.id: piece.place.unit for piece in plan.pieces}
    return [{unit[cut.piece] for cut in bar.cuts} for bar in group.bars]


MANY = asked(*(line(f"L{n}", length, 3 + n % 4) for n, length in enumerate(range(420, 1260, 60))))


def test_goals_that_are_not_asked_for_change_no_id() -> None:
    """Plans of before have the ids they had: a default says nothing."""
    plan = planned(asked(line("A", 600, 4)))
    assert (plan.id, plan.groups[0].goals) == (planned(asked(line("A", 600, 4)), Goals()).id, ())
    assert plan.id != planned(asked(line("A", 600, 4)), Goals(gang=2)).id


def test_fewer_patterns_open_no_more_bars_and_waste_no_more() -> None:
    """The second goal may never cost metal: same cost, scrap no more, patterns and stop changes fewer."""
    plain = planned(MANY).groups[0]
    fewer = planned(MANY, Goals(fewer_patterns=True)).groups[0]
    price = price_of(fewer, "patterns")
    assert (fewer.cost, price.price) == (plain.cost, 0)
    assert fewer.totals.scrap <= plain.totals.scrap
    assert price.value_after < price.value_before
    assert price.value_after == len({tuple(sorted(cut.length for cut in bar.cuts)) for bar in fewer.bars})
    stops = price_of(fewer, "stop changes")
    assert stops.value_after <= stops.value_before


def test_24_bars_by_fours_take_30_strokes() -> None:
    """24 equal bars of 5 strokes, head trim and 4 cuts: 120 one by one, 30 by fours (common practice)."""
    # 4 x 610 = 2440, + 9 of kerfs + 16 of trims = 2465 of 2500.
    group = planned(asked(line("A", 610, 96)), Goals(gang=4)).groups[0]
    price = price_of(group, "strokes")
    assert (len(group.bars), price.value_before, price.value_after, price.price) == (24, 120, 30, 0)
    assert price.proved


def test_gangs_stay_together_when_units_want_to_part_them() -> None:
    """Twelve equal bars for twelve units by fours: three strokes a cut, whatever order the units ask for."""
    lines = [line(f"U{n}", 610, 4, place=Place(unit=f"{n:02}")) for n in range(12)]
    group = planned(asked(*lines), Goals(gang=4, open_units=True)).groups[0]
    # ceil(12 / 4) gangs x 5 strokes.
    assert price_of(group, "strokes").value_after == 15


def units_apart() -> Request:
    """Twelve units, each with one long and one short piece, so that a bar's order decides who waits."""
    lines = []
    for n in range(12):
        place = Place(unit=f"{n:02}")
        lines += [line(f"A{n}", 1200 + 10 * n, 2, place=place), line(f"B{n}", 500 + 5 * n, 3, place=place)]
    return asked(*lines)


def test_few_open_units_cost_nothing_and_are_counted() -> None:
    """Bars change places, no more: same cost, and the count is what a walk along the bars gives."""
    plain, few = planned(units_apart()), planned(units_apart(), Goals(open_units=True))
    before, after = plain.groups[0], few.groups[0]
    price = price_of(after, "most open units")
    assert (after.cost, len(after.bars)) == (before.cost, len(before.bars))
    assert (price.value_before, price.value_after) == (before.open_units, after.open_units)
    assert price.value_after < price.value_before
    assert [bar.number for bar in after.bars] == list(range(1, len(after.bars) + 1))
    assert max(completion(units_of(few, after)).values()) == len(after.bars)


def test_urgent_runs_are_cut_first() -> None:
    """Every bar before the last urgent piece has an urgent piece, and the priority goes before the day."""
    lines = [line(f"N{n}", 700 + 7 * n, 2) for n in range(10)]
    lines += [line("LATE", 900, 2, due="2027-05-01"), line("SOON", 905, 2, due="2027-04-01")]
    lines += [line("RUSH", 450, 2, priority=2)]
    plan = planned(asked(*lines))
    runs = {piece.id: piece.run for piece in plan.pieces}
    first: dict[str, int] = {}
    for bar in plan.groups[0].bars:
        for cut in bar.cuts:
            first.setdefault(runs[cut.piece], bar.number)
    assert first["RUSH"] == 1
    assert first["RUSH"] <= first["SOON"] <= first["LATE"]
    price = price_of(plan.groups[0], "bars until the urgent are cut")
    assert price.value_after <= price.value_before
    assert price.price == 0


@pytest.mark.parametrize("rush", ["A", "B", "C"])
def test_where_bars_run_out_the_urgent_run_is_made(rush: str) -> None:
    """Two bars for three pieces of which each takes one: the urgent one is never the one left out."""
    lines = [
        line(name, length, priority=int(name == rush))
        for name, length in (("A", 2000), ("B", 1900), ("C", 1800))
    ]
    plan = planned(asked(*lines, count=2))
    assert len(plan.unplaced) == 1
    assert plan.unplaced[0].run != rush


def test_an_urgent_fixture_beats_smaller_ones() -> None:
    """Least metal comes first only among equals: the rush of two long pieces is made, the small one waits."""
    family = Family(name="F", cap_style=CapStyle.FLUSH)
    runs = tuple(
        Run(job="yard", id=name, family="F", length=mm(length), priority=priority)
        for name, length, priority in (("SMALL", 3000, 0), ("RUSH", 4600, 5))
    )
    request = replace(asked(count=2), runs=runs, families=(family,))
    plan = planned(request)
    assert {unplaced.run for unplaced in plan.unplaced} == {"SMALL"}


def test_one_urgent_run_without_a_bar_does_not_stop_the_rest() -> None:
    """An urgent fixture that wants more bars than there are is left out; the others are still made."""
    family = Family(name="F", cap_style=CapStyle.FLUSH)
    runs = (Run(job="yard", id="HUGE", family="F", length=mm(9000), priority=5),)
    request = replace(asked(line("A", 2000, 3), count=3), runs=runs, families=(family,))
    plan = planned(request)
    assert {unplaced.run for unplaced in plan.unplaced} == {"HUGE"}
    assert len(plan.groups[0].bars) == 3


def test_slivers_are_told_or_forbidden() -> None:
    """665 + 665 + 662 + 2 kerfs leave 2 of 2000: under the ban a second bar is opened, its price told."""
    request = asked(line("A", 665, 2), line("B", 662), bar=2000, saw=CLEAN)
    warned = planned(request).groups[0]
    assert [bar.sliver for bar in warned.bars] == [True]
    group = planned(request, Goals(slivers=Slivers.FORBID)).groups[0]
    assert [bar.sliver for bar in group.bars] == [False, False]
    price = price_of(group, "slivers")
    assert (price.value_before, price.value_after, price.price) == (1, 0, 140_000)


def test_bars_that_come_out_exactly_stay() -> None:
    """4 x 497.75 + 9 = 2000 needs no last stroke and is no sliver; the ban must not cost it its bar."""
    quarter = PieceLine(job="yard", id="Q", family="F", quantity=4, length=mm("497.75"))
    group = planned(asked(quarter, bar=2000, saw=CLEAN), Goals(slivers=Slivers.FORBID)).groups[0]
    assert ([bar.tail for bar in group.bars], group.proved) == ([0], True)


def test_a_piece_that_only_a_sliver_gives_is_left_out() -> None:
    """1999 of 2000 leaves 1: with slivers forbidden it cannot be made, and the reason says so."""
    request = asked(line("A", 1999), line("B", 2000), bar=2000, saw=CLEAN)
    plan = planned(request, Goals(slivers=Slivers.FORBID))
    assert [(unplaced.run, unplaced.code) for unplaced in plan.unplaced] == [("A", "only-with-sliver")]
    assert len(plan.groups[0].bars) == 1


def test_with_a_tail_loss_the_ban_is_proved() -> None:
    """Tail loss 1, kerf 3: no bar comes out exactly, so a kerf behind every piece is all the ban asks for."""
    saw = SawRules(kerf=mm(3), tail_loss=mm(1), keep_length=mm(400))
    group = planned(
        asked(line("A", 665, 2), line("B", 662), bar=2000, saw=saw), Goals(slivers=Slivers.FORBID)
    ).groups[0]
    assert (len(group.bars), group.proved) == (2, True)


LISTS = st.lists(
    st.tuples(st.integers(200, 1990), st.integers(1, 4), st.integers(0, 3)), min_size=1, max_size=6
)
GOALS = st.builds(
    Goals,
    fewer_patterns=st.booleans(),
    gang=st.integers(1, 4),
    open_units=st.booleans(),
    slivers=st.sampled_from(Slivers),
)


@settings(max_examples=25, deadline=None)
@given(
    rows=LISTS,
    goals=GOALS,
    tail=st.sampled_from([0, 2, 8]),
    offcuts=st.lists(st.integers(300, 1500), max_size=3),
)
def test_every_goal_leaves_a_plan_that_passes_its_audit(
    rows: list[tuple[int, int, int]], goals: Goals, tail: int, offcuts: list[int]
) -> None:
    """Whatever is asked for together: the audit holds, no price but the ban's, no sliver under the ban."""
    lines = [
        line(f"L{n}", length, quantity, priority=n % 2, place=Place(unit=str(unit)))
        for n, (length, quantity, unit) in enumerate(rows)
    ]
    saw = replace(SAW, head_trim=mm(tail), tail_loss=mm(tail))
    rack = tuple(Offcut(tag=f"R{n}", family="F", length=mm(length)) for n, length in enumerate(offcuts))
    request = replace(asked(*lines, bar=2000, saw=saw), offcuts=rack)
    plain, plan = planned(request), planned(request, goals)
    for group in plan.groups:
        assert all(price.price == 0 for price in group.goals if price.goal != "slivers")
        if goals.slivers is Slivers.FORBID:
            assert not any(bar.sliver for bar in group.bars)
        elif not plain.unplaced:
            assert group.cost == plain.groups[0].cost


@settings(max_examples=40, deadline=None)
@given(
    rows=st.lists(st.tuples(st.integers(20, 200), st.integers(1, 6)), min_size=1, max_size=5),
    tail=st.sampled_from([0, 1, 3]),
    goals=st.builds(Goals, fewer_patterns=st.booleans(), slivers=st.just(Slivers.FORBID)),
    count=st.none() | st.integers(1, 4),
)
def test_short_bars_full_of_near_misses_never_leave_a_sliver(
    rows: list[tuple[int, int]], tail: int, goals: Goals, count: int | None
) -> None:
    """On bars of 200 with a kerf of 3 many patterns end in a sliver: none is cut, and the proofs hold."""
    lines = [line(f"L{n}", length, quantity) for n, (length, quantity) in enumerate(rows)]
    request = asked(*lines, bar=200, count=count, saw=replace(CLEAN, tail_loss=mm(tail)))
    plain, plan = planned(request), planned(request, goals)
    assert not any(bar.sliver for group in plan.groups for bar in group.bars)
    for group in plan.groups:
        price = price_of(group, "slivers")
        assert price.value_after == 0
        if not plan.unplaced:
            assert price.cost_before == plain.groups[0].cost <= group.cost


@settings(max_examples=20, deadline=None)
@given(
    lots=st.lists(st.sampled_from(["", "U26", "U27"]), min_size=1, max_size=8),
    racks=st.lists(st.sampled_from(["", "U26", "U27", "X"]), max_size=6),
    rule=st.sampled_from([LotRule.ROOM, LotRule.JOB]),
)
def test_no_room_ever_mixes_lots(lots: list[str], racks: list[str], rule: LotRule) -> None:
    """Whatever lots lie on the rack, the bars of one room are all new, or of the one lot it names."""
    family = Family(name="F", lot_rule=rule)
    lines = [
        line(f"L{n}", 600 + 13 * n, 2, lot=lot, place=Place(unit="1", room=f"room of {lot or 'any'}"))
        for n, lot in enumerate(lots)
    ]
    rack = tuple(
        Offcut(tag=f"R{n}", family="F", length=mm(650 + 31 * n), lot=lot) for n, lot in enumerate(racks)
    )
    plan = planned(replace(asked(*lines), families=(family,), offcuts=rack))
    lot_of = {offcut.tag: offcut.lot for offcut in rack}
    rooms = {piece.id: piece.place.room for piece in plan.pieces}
    met: defaultdict[str, set[str]] = defaultdict(set)
    for group in plan.groups:
        for bar in group.bars:
            # New bars of one order are one delivery; an order is one material's, lot by lot.
            lot = lot_of[bar.source] if bar.offcut else f"order {group.material.lot}"
            ordered = group.material.lot and lot == group.material.lot
            for cut in bar.cuts:
                met[rooms[cut.piece]].add(f"order {lot}" if ordered else lot)
    assert all(len(found) == 1 for found in met.values()), met


def test_a_plan_that_follows_keeps_the_ban_on_slivers() -> None:
    """A mis-cut of 664 may not become a 662, which would leave 2; nothing of the re-plan is a sliver."""
    request = replace(
        asked(line("A", 665, 2), line("B", 662, 2), bar=2000, saw=CLEAN), goals=Goals(slivers=Slivers.FORBID)
    )
    plan = plan_request(request, Limits(processes=1))
    bar = next(bar for bar in plan.groups[0].bars if any(cut.piece.startswith("A") for cut in bar.cuts))
    spoiled = next(cut.piece for cut in bar.cuts if cut.piece.startswith("A"))
    report = ShopReport(
        plan=plan.id,
        bars=(BarReport(bar=bar.number, outcome=Outcome.DONE, miscuts=(Miscut(spoiled, mm(664)),)),),
    )
    made = replan(plan, report, Limits(processes=1)).plan
    assert violations(made) == ()
    assert not any(bar.sliver for group in made.groups for bar in group.bars)


def test_sections_of_a_long_run_leave_no_sliver() -> None:
    """1 mm of tail loss and a kerf of 3: sections of 2491 would all be left out, those of 2489 are cut."""
    run = Run(job="J", id="R", family="F", length=mm(5334), split_rule=SplitRule.FULL)
    request = Request(
        runs=(run,),
        families=(Family(name="F"),),
        stock=(StockLine(family="F", length=mm(2500)),),
        saw=SawRules(kerf=mm(3), head_trim=mm(8), tail_loss=mm(1), keep_length=mm(400)),
        goals=Goals(slivers=Slivers.FORBID),
    )
    plan = plan_request(request, Limits(processes=1))
    assert not plan.unplaced
    # 5334 = 2489 + 2489 + 356
    assert sorted(piece.length for piece in plan.pieces) == [mm(356), mm(2489), mm(2489)]
