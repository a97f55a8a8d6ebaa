"""A plan after a report cuts its open bars in an order with few open units, where the plan asked for it."""

from __future__ import annotations

from dataclasses import replace

from nesting.batch.run import plan_request
from nesting.domain.goals import Goals
from nesting.domain.plan import Plan
from nesting.domain.request import Request
from nesting.domain.runs import PieceLine, Place
from nesting.domain.stock import StockLine
from nesting.exchange import read_plan, write_plan
from nesting.money import read_money
from nesting.units import mm
from nesting.verify import violations
from tests.batch.shop import SAW, again, bar_with, done


def six_units(*, few: bool) -> Request:
    """Ask for two pieces of 900 for each of six units: a bar of 2000 a unit, and none has room for more."""
    lines = tuple(
        PieceLine(job="yard", id=f"U{n}", family="F", quantity=2, length=mm(900), place=Place(unit=str(n)))
        for n in range(1, 7)
    )
    stock = (StockLine(family="F", length=mm(2000), price=read_money("11.40")),)
    return Request(piece_lines=lines, stock=stock, saw=SAW, currency="XTS", goals=Goals(open_units=few))


def in_turn(plan: Plan) -> list[int]:
    """Give the numbers of the bars in the order in which they are cut."""
    return [bar.number for group in plan.groups for bar in group.bars]


def test_the_bar_that_replaces_a_spoiled_piece_comes_at_once() -> None:
    """Unit 1 is half finished with bar 1: bar 7, opened for its spoiled piece, is cut before units 2 to 6."""
    plan = plan_request(six_units(few=True))
    assert in_turn(plan) == [1, 2, 3, 4, 5, 6]
    made = again(plan, done(bar_with(plan, "U1.1"), U1_1=None)).plan
    assert in_turn(made) == [1, 7, 2, 3, 4, 5, 6]
    assert made.groups[0].open_units == 1
    # The order lives through the document, and another report of nothing keeps it.
    assert in_turn(read_plan(write_plan(made))) == in_turn(made)
    assert in_turn(again(made).plan) == in_turn(made)


def test_without_the_goal_bars_come_by_their_numbers() -> None:
    """Nobody asked: the new bar is the last one, and two units stand open meanwhile."""
    plan = plan_request(six_units(few=False))
    made = again(plan, done(bar_with(plan, "U1.1"), U1_1=None)).plan
    assert in_turn(made) == [1, 2, 3, 4, 5, 6, 7]
    assert made.groups[0].open_units == 2


def test_an_order_said_to_be_better_than_it_is_does_not_pass_the_audit() -> None:
    """The auditor counts the open units of the new order itself."""
    plan = plan_request(six_units(few=True))
    made = again(plan, done(bar_with(plan, "U1.1"), U1_1=None)).plan
    (group,) = made.groups
    by_number = tuple(sorted(group.bars, key=lambda bar: bar.number))
    wrong = replace(made, groups=(replace(group, bars=by_number),))
    assert [one.code for one in violations(wrong)] == ["open-units"]
