"""Offcuts: what each state allows, and who is named when it does not."""

from dataclasses import replace

import pytest

from nesting.domain.stock import Offcut
from nesting.errors import ProblemError
from nesting.stockroom import rack
from nesting.stockroom.ledger import Account, balance
from nesting.stockroom.rack import Tagged
from nesting.stockroom.states import State, StockConflict
from nesting.units import mm


def offcut(length: int = 1300) -> Offcut:
    return Offcut(tag="FL-1", family="TOLV-17N", length=mm(length))


FREE = Tagged(offcut=offcut())
RESERVED = rack.reserve(FREE, "p1").after


def test_receiving_brings_the_length_in_from_outside() -> None:
    """What lies on the rack has come from somewhere."""
    move = rack.receive(offcut())
    assert move.after.state is State.FREE
    sums = balance([move.entry])
    assert (sums[Account.OUTSIDE], sums[Account.STORE]) == (-mm(1300), mm(1300))


def test_a_reserved_offcut_belongs_to_one_plan() -> None:
    """The second plan is told who has it; the first may give it back."""
    with pytest.raises(StockConflict, match="reserved by plan p1") as caught:
        rack.reserve(RESERVED, "p2")
    assert caught.value.plan == "p1"
    assert rack.free(RESERVED, "p1").after == FREE
    with pytest.raises(StockConflict):
        rack.free(RESERVED, "p2")


def test_quarantine_ends_a_reservation_of_its_own_plan_only() -> None:
    """A scratch found at the saw sets the offcut aside; a stranger cannot."""
    move = rack.quarantine(RESERVED, reason="scratch", plan="p1", bar=3)
    assert (move.after.state, move.after.plan) == (State.QUARANTINED, "")
    with pytest.raises(StockConflict):
        rack.quarantine(RESERVED, reason="scratch")
    assert rack.restore(move.after, reason="polished").after == FREE
    with pytest.raises(StockConflict):
        rack.restore(FREE, reason="why")


def test_scrap_is_no_stock() -> None:
    """What was thrown away cannot be reserved, found or measured."""
    gone = rack.scrap(FREE, reason="bent").after
    with pytest.raises(StockConflict, match="scrapped"):
        rack.reserve(gone, "p1")
    with pytest.raises(StockConflict, match="scrapped"):
        rack.find(gone, mm(1300), reason="there")
    with pytest.raises(StockConflict, match="scrapped"):
        rack.measure(gone, mm(1300), reason="tape")
    with pytest.raises(StockConflict, match="scrapped"):
        rack.lose(gone, reason="gone")


def test_what_was_too_short_to_keep_comes_out_of_the_scrap_again() -> None:
    """Its length is back in the store; what is not scrap cannot be taken out of it."""
    gone = rack.scrap(FREE, reason="short")
    back = rack.retrieve(gone.after, plan="p2", reason="an open piece is cut of it")
    assert back.after == FREE
    assert (back.entry.plan, balance([gone.entry, back.entry])[Account.STORE]) == ("p2", 0)
    with pytest.raises(StockConflict, match="reserved by plan p1"):
        rack.retrieve(RESERVED, plan="p2", reason="x")


def test_a_lost_offcut_may_be_found_shorter() -> None:
    """1300 lost, 1250 found: 50 go to the account of measuring differences."""
    lost = rack.lose(FREE, reason="not in B3")
    found = rack.find(lost.after, mm(1250), reason="was in A1")
    assert (found.after.state, found.after.offcut.length) == (State.FREE, mm(1250))
    sums = balance([rack.receive(offcut()).entry, lost.entry, found.entry])
    assert (sums[Account.STORE], sums[Account.LOST], sums[Account.MEASURE]) == (mm(1250), 0, mm(50))


def test_a_reserved_length_is_not_changed_behind_the_plans_back() -> None:
    """Its plan counts on it."""
    with pytest.raises(StockConflict):
        rack.measure(RESERVED, mm(1290), reason="tape")
    assert rack.measure(FREE, mm(1290), reason="tape").after.offcut.length == mm(1290)


def test_only_the_place_of_a_reserved_offcut_may_be_corrected() -> None:
    """It may be moved on the rack; its lot or ends are part of the plan."""
    moved = rack.correct(RESERVED, replace(offcut(), place="A1"), reason="moved")
    assert (moved.after.offcut.place, moved.after.plan) == ("A1", "p1")
    with pytest.raises(StockConflict):
        rack.correct(RESERVED, replace(offcut(), lot="L2"), reason="label")
    with pytest.raises(ProblemError):
        rack.correct(FREE, replace(offcut(), length=mm(1)), reason="typing")


def test_seeing_changes_nothing_but_is_written_down() -> None:
    """A cycle count that agrees is evidence too."""
    move = rack.seen(RESERVED, reason="count")
    assert move.after == RESERVED
    assert move.entry.postings == ()


def test_a_reservation_needs_a_plan() -> None:
    """Reserved by nobody cannot be built."""
    with pytest.raises(ProblemError):
        Tagged(offcut=offcut(), state=State.RESERVED)
    with pytest.raises(ProblemError):
        Tagged(offcut=offcut(), state=State.FREE, plan="p1")


def test_what_was_born_by_mistake_is_off_the_rack() -> None:
    """A free tail is withdrawn, and a short one out of the scrap; what became of one since is not undone."""
    gone = rack.withdraw(FREE)
    assert (gone.state, gone.state.held, gone.plan) == (State.WITHDRAWN, False, "")
    with pytest.raises(StockConflict, match="reserved by plan p1"):
        rack.withdraw(RESERVED)
    thrown = rack.scrap(FREE, reason="bent").after
    with pytest.raises(StockConflict, match="scrapped"):
        rack.withdraw(thrown)
    assert rack.withdraw(thrown, short=True) == gone
    with pytest.raises(StockConflict, match="withdrawn"):
        rack.find(gone, mm(1300), reason="there")


@pytest.mark.parametrize("was", [State.CUT, State.QUARANTINED, State.LOST])
def test_an_offcut_reported_by_mistake_is_its_plans_again(was: State) -> None:
    """As long as it is what the report has made of it, and nobody else's."""
    now = Tagged(offcut=offcut(), state=was, plan="p1" if was is State.CUT else "")
    assert rack.give_back(now, "p1", was) == RESERVED
    with pytest.raises(StockConflict, match="free; it cannot be given back to plan p1"):
        rack.give_back(FREE, "p1", was)
    if was is State.CUT:
        with pytest.raises(StockConflict, match="cut by plan p1"):
            rack.give_back(now, "p2", was)
