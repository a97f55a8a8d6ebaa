"""Tests of nesting.planning.ordered: what was ordered before is known, and its reserve may be cut."""

from __future__ import annotations

from dataclasses import replace

from nesting.batch.split import split
from nesting.domain.buying import BuyingRules, Spares
from nesting.planning.group import Group
from nesting.planning.ordered import holds_reserve, ordered_by, said_of_before, with_ordered
from nesting.units import mm
from tests.batch.shop import order, planned

REQUEST = replace(order({659: 6}, bars={2000: "11.40"}), buying=BuyingRules(spares=Spares(bars=1)))
# Two full bars and one in reserve.
PLAN = planned(REQUEST)


def group() -> Group:
    """Give the material's group as a first plan meets it."""
    return split(REQUEST, PLAN.pieces).chains[0][0]


def test_the_order_of_the_plan_before_is_known_line_by_line() -> None:
    """Three bars of 2000, one of them in reserve."""
    ((position, known),) = ordered_by(PLAN).items()
    assert (position, known.bars, known.reserve) == (("", 0), 3, 1)


def test_the_most_that_any_plan_ordered_is_there() -> None:
    """A plan that needs two of five ordered bars leaves five ordered; a used reserve was bought too."""
    line = replace(PLAN.order[0], bars=2, reserve=0, ordered=5, reserve_used=2)
    (known,) = ordered_by(replace(PLAN, order=(line,))).values()
    assert (known.bars, known.reserve) == (5, 2)


def test_plans_that_do_not_say_their_stock_line_are_matched_by_what_they_buy() -> None:
    """Older documents name family, length and price; what nobody offers is left out."""
    old = replace(PLAN.order[0], stock=None)
    strange = replace(old, length=mm(2500))
    assert list(ordered_by(replace(PLAN, order=(old, strange)))) == [("", 0)]


def test_the_reserve_is_what_was_ordered() -> None:
    """It is no longer asked for, it is there: one of three bars may be opened at no more cost."""
    held = with_ordered(group(), ordered_by(PLAN))
    (offer,) = held.market.offers
    assert (offer.reserve, offer.ordered, held.spares) == (1, 3, Spares())
    assert holds_reserve(group(), ordered_by(PLAN))


def test_what_was_never_ordered_is_asked_for_as_in_a_first_plan() -> None:
    """Without an order before, the group stays as it is."""
    assert with_ordered(group(), {}) == group()
    assert not holds_reserve(group(), {})


def test_lines_say_what_was_ordered_and_used() -> None:
    """Three bars cut, none left in reserve: the one of the order is used."""
    (line,) = said_of_before([replace(PLAN.order[0], reserve=0)], ordered_by(PLAN))
    assert (line.ordered, line.reserve_used, line.more, line.left_over) == (3, 1, 0, 0)


def test_bars_that_nobody_needs_any_more_are_not_forgotten() -> None:
    """A line that the new plan does not have stays, with nothing to order and all of it left over."""
    (line,) = said_of_before([], ordered_by(PLAN))
    assert (line.bars, line.ordered, line.left_over, line.sum) == (0, 3, 3, 0)


def test_a_first_plan_says_nothing_of_before() -> None:
    """Its lines have ordered nothing."""
    assert all(line.ordered == line.reserve_used == 0 for line in PLAN.order)
