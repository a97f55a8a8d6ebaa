"""How far the units of a job are, over one plan and over several."""

from __future__ import annotations

from dataclasses import replace

import pytest

from api.pages.jobs.progress import BarNow, Batch, Fate, UnitNow, units_of
from api.plans.states import BarState
from nesting.batch.pool import Limits
from nesting.batch.run import plan_request
from nesting.domain.plan import Plan
from nesting.domain.request import Request
from nesting.domain.runs import PieceLine, Place
from nesting.domain.stock import StockLine
from nesting.units import mm
from tests.api.service import FAMILY, FINISH, SAW

CUT, OPEN = BarNow(state=BarState.CUT), BarNow(state=BarState.OPEN)


def request(*lines: tuple[str, str, int]) -> Request:
    """Give a request for single pieces: (id, unit, mm), floor by the unit's first figure."""
    return Request(
        piece_lines=tuple(
            PieceLine(
                job="OY",
                id=name,
                family=FAMILY,
                finish=FINISH,
                length=mm(length),
                quantity=1,
                place=Place(floor=unit[:1], unit=unit),
            )
            for name, unit, length in lines
        ),
        stock=(StockLine(family=FAMILY, finish=FINISH, length=mm(2000)),),
        saw=SAW,
    )


@pytest.fixture(scope="module")
def plan() -> Plan:
    """Two pieces of 1800 on two bars of 2000, one of 2400 that fits on none."""
    wanted = request(("A", "101", 1800), ("B", "102", 1800), ("C", "201", 2400))
    return plan_request(wanted, Limits(seconds=10, processes=1))


def batch(
    plan: Plan, number: int = 1, bars: dict[int, BarNow] | None = None, *, closed: bool = False
) -> Batch:
    """Give a plan with how its bars stand; none of a plan that is not released."""
    return Batch(id=f"id{number}", number=number, plan=plan, closed=closed, bars=bars or {})


def by_unit(*batches: Batch) -> dict[str, UnitNow]:
    return {one.unit: one for one in units_of("OY", batches)}


def bar_of(plan: Plan, piece: str) -> int:
    return next(
        bar.number for group in plan.groups for bar in group.bars for cut in bar.cuts if cut.piece == piece
    )


def test_a_proposed_plan_says_after_which_bar_and_what_is_left_out(plan: Plan) -> None:
    """Nothing is cut; the unit whose piece fits no bar is never complete, and the reason is told."""
    units = by_unit(batch(plan))
    last = units["101"].last
    assert last is not None
    assert (last.fate, last.bar) == (Fate.PROPOSED, bar_of(plan, "A"))
    assert units["201"].last is None
    assert [(one.fate, bool(one.why)) for one in units["201"].missing] == [(Fate.LEFT_OUT, True)]


def test_units_come_floor_by_floor_as_numbers(plan: Plan) -> None:
    """9 before 10, and places with names last."""
    wanted = request(("A", "9", 500), ("B", "10", 500), ("C", "roof", 500), ("D", "100", 500))
    made = plan_request(wanted, Limits(seconds=10, processes=1))
    # Floors are 9, 1, r, 1.
    assert [(one.floor, one.unit) for one in units_of("OY", [batch(made)])] == [
        ("1", "10"),
        ("1", "100"),
        ("9", "9"),
        ("r", "roof"),
    ]


def test_a_unit_waits_for_the_bar_that_is_last_in_turn() -> None:
    """After a report bar 2 may be cut before bar 1: after bar 2 a piece would still be missing."""
    made = plan_request(request(("A", "101", 1800), ("B", "101", 1700)), Limits(seconds=10, processes=1))
    groups = tuple(replace(group, bars=tuple(reversed(group.bars))) for group in made.groups)
    last = by_unit(batch(replace(made, groups=groups)))["101"].last
    assert last is not None
    assert last.bar == 1


def test_a_unit_is_complete_when_its_last_bar_is_cut(plan: Plan) -> None:
    """The other one still waits for its own bar."""
    first, second = bar_of(plan, "A"), bar_of(plan, "B")
    units = by_unit(batch(plan, 1, {first: CUT, second: OPEN}))
    assert units["101"].complete
    assert not units["102"].complete
    assert units["102"].count(Fate.TO_CUT) == 1


@pytest.mark.parametrize(
    ("bar", "why"),
    [
        (BarNow(state=BarState.CUT, spoiled=frozenset({"A"})), "it came out wrong"),
        (BarNow(state=BarState.DEFECT), "its bar has a defect"),
        (BarNow(state=BarState.MISSING), "its bar was not found"),
    ],
)
def test_what_must_be_made_again_is_missing_and_says_why(plan: Plan, bar: BarNow, why: str) -> None:
    """Until the plan is planned again no bar gives the piece."""
    first, second = bar_of(plan, "A"), bar_of(plan, "B")
    units = by_unit(batch(plan, 1, {first: bar, second: OPEN}))
    assert [(one.piece, one.fate, one.why) for one in units["101"].missing] == [("A", Fate.AGAIN, why)]
    assert units["101"].last is None


def test_what_a_closed_plan_has_not_cut_is_its_successors(plan: Plan) -> None:
    """A was cut with the first plan; B went into the second, and counts there alone."""
    first, second = bar_of(plan, "A"), bar_of(plan, "B")
    gone = BarNow(state=BarState.WITHDRAWN)
    closed = batch(plan, 1, {first: CUT, second: gone}, closed=True)
    again = plan_request(request(("B", "102", 1800)), Limits(seconds=10, processes=1))
    units = by_unit(closed, batch(again, 2, {1: OPEN}))
    assert units["101"].complete
    assert [(one.number, one.fate) for one in units["102"].pieces] == [(2, Fate.TO_CUT)]
    assert "201" not in units


def test_a_list_planned_twice_counts_once(plan: Plan) -> None:
    """Two proposals of one list are alternatives: the later stands; a released one beats both."""
    later = by_unit(batch(plan, 1), batch(plan, 2))
    assert [one.number for one in later["101"].pieces] == [2]
    assert [one.number for one in later["201"].pieces] == [2]
    first, second = bar_of(plan, "A"), bar_of(plan, "B")
    released = by_unit(batch(plan, 1, {first: OPEN, second: OPEN}), batch(plan, 2))
    assert [one.number for one in released["101"].pieces] == [1]


def test_a_run_left_out_whole_is_not_missing_once_another_plan_has_its_pieces(plan: Plan) -> None:
    """The first plan names the run alone, the second its pieces."""
    out = replace(plan.unplaced[0], piece="")
    first = replace(plan, unplaced=(out,))
    assert by_unit(batch(first))["201"].missing[0].run == "C"
    longer = replace(
        request(("C", "201", 2400)), stock=(StockLine(family=FAMILY, finish=FINISH, length=mm(2500)),)
    )
    second = plan_request(longer, Limits(seconds=10, processes=1))
    assert by_unit(batch(first), batch(second, 2))["201"].missing == ()


def test_other_jobs_are_left_out(plan: Plan) -> None:
    """A plan of many jobs is looked at from one of them."""
    assert units_of("WK", [batch(plan)]) == ()
