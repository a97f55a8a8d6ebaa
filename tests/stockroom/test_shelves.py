"""Whole bars: counts by state, reservations by plan."""

from dataclasses import replace

import pytest

from nesting.errors import ProblemError
from nesting.stockroom import shelves
from nesting.stockroom.ledger import Account, Kind, balance
from nesting.stockroom.shelves import Shelf
from nesting.stockroom.states import StockConflict
from nesting.units import mm

EMPTY = Shelf(key="TOLV 2500", family="TOLV-17N", length=mm(2500))
FIVE = replace(EMPTY, free=5)
LAST = replace(EMPTY, free=1, orderable=False)


def test_receiving_and_counting() -> None:
    """Five come in, six are counted: one is a difference nobody can explain."""
    came = shelves.receive_bars(EMPTY, 5)
    counted = shelves.count_bars(came.after, 6, reason="count")
    assert counted.after.free == 6
    sums = balance([*came.entries, *counted.entries])
    assert (sums[Account.STORE], sums[Account.MEASURE]) == (6 * mm(2500), -mm(2500))


def test_counting_leaves_what_is_reserved() -> None:
    """Two of five are reserved: four counted leave two free, one counted cannot be."""
    held = shelves.reserve_bars(FIVE, "p1", 2).after
    assert shelves.count_bars(held, 4, reason="count").after.free == 2
    with pytest.raises(StockConflict, match="p1"):
        shelves.count_bars(held, 1, reason="count")


def test_a_length_that_can_be_bought_reserves_what_there_is() -> None:
    """Seven are needed, five are there: the other two are to come."""
    move = shelves.reserve_bars(FIVE, "p1", 7)
    assert (move.after.free, move.after.reserved_for("p1")) == (0, 5)
    assert shelves.reserve_bars(EMPTY, "p1", 7).entries == ()


def test_a_length_that_cannot_be_bought_is_refused_when_short() -> None:
    """The refusal names who has the rest."""
    held = shelves.reserve_bars(replace(LAST, free=2), "p1", 1).after
    with pytest.raises(StockConflict) as caught:
        shelves.reserve_bars(held, "p2", 2)
    assert caught.value.plan == "p1"


def test_freeing_gives_all_back() -> None:
    """A withdrawn plan keeps nothing."""
    held = shelves.reserve_bars(FIVE, "p1", 3).after
    assert shelves.free_bars(held, "p1").after == FIVE
    assert shelves.free_bars(FIVE, "p1").entries == ()


def test_the_saw_takes_reserved_bars_first_then_free_then_delivered_ones() -> None:
    """Only the delivered one has an entry of its own: it has come from outside."""
    held = shelves.reserve_bars(replace(EMPTY, free=2), "p1", 1).after
    first = shelves.take_bar(held, "p1")
    assert (first.after.reserved, first.after.free, first.entries) == ((), 1, ())
    second = shelves.take_bar(first.after, "p1")
    assert (second.after.free, second.entries) == (0, ())
    third = shelves.take_bar(second.after, "p1")
    assert [entry.kind for entry in third.entries] == [Kind.RECEIVE]
    with pytest.raises(StockConflict, match="empty"):
        shelves.take_bar(replace(LAST, free=0), "p1")


def test_setting_aside_restoring_and_scrapping() -> None:
    """Quarantined bars are still in the store; scrapped ones are not."""
    aside = shelves.quarantine_bars(FIVE, 3, reason="dents").after
    assert (aside.free, aside.quarantined, aside.on_hand) == (2, 3, 5)
    back = shelves.restore_bars(aside, 1, reason="fine").after
    gone = shelves.scrap_bars(back, 2, reason="bent")
    assert (gone.after.free, gone.after.quarantined) == (3, 0)
    assert balance(gone.entries)[Account.SCRAP] == 2 * mm(2500)
    for act in (shelves.restore_bars, shelves.scrap_bars):
        with pytest.raises(StockConflict):
            act(FIVE, 1, reason="none there")
    with pytest.raises(StockConflict):
        shelves.quarantine_bars(FIVE, 6, reason="too many")


def test_a_plans_own_bar_set_aside_or_lost() -> None:
    """The plan's reservation shrinks by the bar; a lost one leaves the store."""
    held = shelves.reserve_bars(FIVE, "p1", 1).after
    aside = shelves.quarantine_plans_bar(held, "p1", 2, reason="dent").after
    assert (aside.reserved, aside.quarantined, aside.on_hand) == ((), 1, 5)
    lost = shelves.lose_plans_bar(held, "p1", 2, reason="not there")
    assert lost.after.on_hand == 4
    assert balance(lost.entries)[Account.LOST] == mm(2500)


def test_fewer_bars_than_none_cannot_be() -> None:
    """Neither counts nor lengths below zero."""
    for wrong in ({"free": -1}, {"quarantined": -1}, {"reserved": (("p", 0),)}, {"length": mm(0)}):
        with pytest.raises(ProblemError):
            replace(EMPTY, **wrong)


@pytest.mark.parametrize("shelf", [shelves.reserve_bars(FIVE, "p1", 2).after, FIVE, EMPTY])
def test_a_bar_given_back_stands_where_it_was_taken(shelf: Shelf) -> None:
    """Kept for the plan, free, or not delivered yet: the shelf is as before, and so are the books."""
    which = shelves.next_taken(shelf, "p1")
    taken = shelves.take_bar(shelf, "p1")
    back = shelves.give_bar_back(taken.after, "p1", 7, which, reason="it was bar 8")
    assert back.after == shelf
    sums = balance([*taken.entries, *back.entries])
    assert sums[Account.OUTSIDE] == 0
    assert all(entry.bar == 7 for entry in back.entries)


def test_a_bar_set_aside_by_mistake_is_its_plans_again() -> None:
    """It is taken from those set aside; when there is none any more, it cannot be."""
    held = shelves.reserve_bars(FIVE, "p1", 2).after
    aside = shelves.quarantine_plans_bar(held, "p1", 7, reason="dent").after
    taken = shelves.Taken.RESERVED
    back = shelves.give_bar_back(aside, "p1", 7, taken, set_aside=True, reason="it was bar 8")
    assert back.after == held
    gone = shelves.scrap_bars(aside, 1, reason="bent").after
    with pytest.raises(StockConflict, match="given back to its plan"):
        shelves.give_bar_back(gone, "p1", 7, taken, set_aside=True, reason="it was bar 8")
