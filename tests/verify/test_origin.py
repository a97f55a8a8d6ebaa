"""A plan says what it was asked: its id covers the request, its pieces go where their runs go."""

from dataclasses import replace

from nesting.batch.run import plan_request
from nesting.domain.plan import Plan
from nesting.domain.request import Request
from nesting.domain.rules import SawRules
from nesting.domain.runs import PieceLine, Place
from nesting.domain.stock import StockLine
from nesting.units import mm
from nesting.verify.origin import origin_violations


def a_plan() -> Plan:
    """Plan one piece for one room."""
    line = PieceLine(job="yard", id="L1", family="F", length=mm(800), place=Place(room="hall"))
    stock = (StockLine(family="F", length=mm(2500)),)
    return plan_request(Request(title="Yard", piece_lines=(line,), stock=stock, saw=SawRules(kerf=mm(3))))


def codes(plan: Plan) -> list[str]:
    return [violation.code for violation in origin_violations(plan)]


def test_an_untouched_plan_is_what_was_asked() -> None:
    """A plan fresh from the planner has nothing to say here."""
    assert codes(a_plan()) == []


def test_a_request_changed_after_planning_is_named() -> None:
    """Title, price or rule: whatever changes the request no longer fits the plan's id."""
    plan = a_plan()
    assert codes(replace(plan, request=replace(plan.request, title="Another yard"))) == ["plan-id"]
    assert codes(replace(plan, id="000000000000")) == ["plan-id"]


def test_a_piece_sent_to_another_room_is_named() -> None:
    """The label would send it there."""
    plan = a_plan()
    moved = tuple(replace(piece, place=Place(room="attic")) for piece in plan.pieces)
    assert codes(replace(plan, pieces=moved)) == ["piece-place"]
