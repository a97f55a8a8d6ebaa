"""A plan at the saw as it stands."""

from __future__ import annotations

from api.pages.saw.reading import AtSaw
from api.plans.states import BarState, PlanState
from nesting.reports.lengths import METRIC
from tests.pages.saw.sheets import plan_of


def at_saw(**states: BarState) -> AtSaw:
    """Give a plan whose bars, named n1, n2 ..., have these states, in the order in which they are cut."""
    return AtSaw(
        id="p",
        number=1,
        title="",
        state=PlanState.RELEASED,
        plan=plan_of(("610",), 2500),
        lengths=METRIC,
        states={int(name[1:]): state for name, state in states.items()},
    )


def test_the_next_bar_is_the_next_in_the_order_of_cutting() -> None:
    """Bar 7 replaces a piece of bar 1 and comes before bar 2; behind the last is what was left out."""
    at = at_saw(n1=BarState.CUT, n7=BarState.OPEN, n2=BarState.OPEN, n3=BarState.OPEN)
    assert [at.next_open(number) for number in (0, 1, 7, 2, 3)] == [7, 7, 2, 3, 7]


def test_behind_the_last_open_bar_there_is_none() -> None:
    """The bar one stands at is not its own next one."""
    at = at_saw(n1=BarState.CUT, n2=BarState.OPEN)
    assert (at.next_open(1), at.next_open(2)) == (2, None)
