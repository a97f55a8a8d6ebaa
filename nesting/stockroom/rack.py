"""Tagged offcuts: each change gives the new offcut and what the ledger says of it."""

from __future__ import annotations

from dataclasses import dataclass, replace

from nesting.domain.stock import Offcut
from nesting.errors import ProblemError
from nesting.stockroom.ledger import Account, Entry, Kind, moved
from nesting.stockroom.states import State, StockConflict
from nesting.units import Length


@dataclass(frozen=True, slots=True, kw_only=True)
class Tagged:
    """
    One offcut as the stockroom knows it.

    Parameters
    ----------
    plan
        The plan that has it reserved or has cut it; empty otherwise.
    """

    offcut: Offcut
    state: State = State.FREE
    plan: str = ""

    def __post_init__(self) -> None:
        """Refuse a reservation by nobody."""
        if (self.state is State.RESERVED) != bool(self.plan) and self.state is not State.CUT:
            raise ProblemError(f"Offcut {self.offcut.tag!r} is {self.state.value} with plan {self.plan!r}.")


@dataclass(frozen=True, slots=True)
class Move:
    """An offcut after a change, and the ledger's entry."""

    after: Tagged
    entry: Entry


def receive(offcut: Offcut, *, reason: str = "") -> Move:
    """Put a measured offcut on the rack."""
    entry = Entry(
        kind=Kind.RECEIVE,
        thing=offcut.tag,
        postings=moved((Account.OUTSIDE, -offcut.length), (Account.STORE, offcut.length)),
        reason=reason,
    )
    return Move(Tagged(offcut=offcut), entry)


def reserve(tagged: Tagged, plan: str) -> Move:
    """
    Keep a free offcut for one plan.

    Raises
    ------
    StockConflict
        When it is not free; it names the plan that has it.
    """
    _require(tagged, (State.FREE,), "reserved")
    entry = Entry(kind=Kind.RESERVE, thing=tagged.offcut.tag, plan=plan)
    return Move(Tagged(offcut=tagged.offcut, state=State.RESERVED, plan=plan), entry)


def free(tagged: Tagged, plan: str) -> Move:
    """
    Give a plan's reserved offcut back to everybody.

    Raises
    ------
    StockConflict
        When this plan does not have it.
    """
    require_reserved(tagged, plan)
    entry = Entry(kind=Kind.FREE, thing=tagged.offcut.tag, plan=plan)
    return Move(Tagged(offcut=tagged.offcut), entry)


def quarantine(tagged: Tagged, *, reason: str, plan: str = "", bar: int = 0) -> Move:
    """
    Set an offcut aside, e.g. for a scratch; a reservation ends.

    Raises
    ------
    StockConflict
        When it is no longer in the store, is set aside already, or is reserved by another plan.
    """
    _require(tagged, (State.FREE, State.RESERVED), "quarantined", plan)
    entry = Entry(kind=Kind.QUARANTINE, thing=tagged.offcut.tag, plan=plan, bar=bar, reason=reason)
    return Move(Tagged(offcut=tagged.offcut, state=State.QUARANTINED), entry)


def restore(tagged: Tagged, *, reason: str) -> Move:
    """
    Put a quarantined offcut back on the rack.

    Raises
    ------
    StockConflict
        When it is not quarantined.
    """
    _require(tagged, (State.QUARANTINED,), "restored")
    entry = Entry(kind=Kind.RESTORE, thing=tagged.offcut.tag, reason=reason)
    return Move(Tagged(offcut=tagged.offcut), entry)


def scrap(tagged: Tagged, *, reason: str) -> Move:
    """
    Throw a free or quarantined offcut away.

    Raises
    ------
    StockConflict
        When it is reserved or no longer in the store.
    """
    _require(tagged, (State.FREE, State.QUARANTINED), "scrapped")
    return _gone(tagged, State.SCRAPPED, Kind.SCRAP, Account.SCRAP, reason)


def retrieve(tagged: Tagged, *, plan: str, reason: str) -> Move:
    """
    Take a piece that was too short to keep out of the scrap again: its plan has found a use for it.

    Raises
    ------
    StockConflict
        When it is no scrap.
    """
    _require(tagged, (State.SCRAPPED,), "taken out of the scrap")
    length = tagged.offcut.length
    entry = Entry(
        kind=Kind.RESTORE,
        thing=tagged.offcut.tag,
        plan=plan,
        postings=moved((Account.SCRAP, -length), (Account.STORE, length)),
        reason=reason,
    )
    return Move(Tagged(offcut=tagged.offcut), entry)


def lose(tagged: Tagged, *, reason: str, plan: str = "", bar: int = 0) -> Move:
    """
    Note that an offcut is not where it should be.

    Raises
    ------
    StockConflict
        When it is no longer in the store, or is reserved by another plan.
    """
    _require(tagged, (State.FREE, State.RESERVED, State.QUARANTINED), "lost", plan)
    return _gone(tagged, State.LOST, Kind.LOSE, Account.LOST, reason, plan, bar)


def find(tagged: Tagged, measured: Length, *, reason: str) -> Move:
    """
    Put a lost offcut back on the rack with the length it has now.

    Raises
    ------
    StockConflict
        When it is not lost.
    """
    _require(tagged, (State.LOST,), "found")
    before = tagged.offcut.length
    entry = Entry(
        kind=Kind.FIND,
        thing=tagged.offcut.tag,
        postings=moved(
            (Account.LOST, -before), (Account.STORE, measured), (Account.MEASURE, before - measured)
        ),
        reason=reason,
    )
    return Move(Tagged(offcut=replace(tagged.offcut, length=measured)), entry)


def measure(tagged: Tagged, measured: Length, *, reason: str) -> Move:
    """
    Correct the length of an offcut nobody has reserved.

    Raises
    ------
    StockConflict
        When it is reserved (its plan counts on the length) or no longer in the store.
    """
    _require(tagged, (State.FREE, State.QUARANTINED), "measured anew")
    before = tagged.offcut.length
    entry = Entry(
        kind=Kind.MEASURE,
        thing=tagged.offcut.tag,
        postings=moved((Account.STORE, measured - before), (Account.MEASURE, before - measured)),
        reason=reason,
    )
    return Move(replace(tagged, offcut=replace(tagged.offcut, length=measured)), entry)


def seen(tagged: Tagged, *, reason: str) -> Move:
    """Note that an offcut was seen and is as long as is written."""
    return Move(tagged, Entry(kind=Kind.COUNT, thing=tagged.offcut.tag, reason=reason))


def correct(tagged: Tagged, corrected: Offcut, *, reason: str) -> Move:
    """
    Change what is written of an offcut, its length excepted: place, lot, end states, value.

    Raises
    ------
    StockConflict
        When it is no longer in the store, or more than its place is changed while a plan has it.
    ProblemError
        When the length or the tag would change.
    """
    held = (State.FREE, State.RESERVED, State.QUARANTINED)
    _require(tagged, held, "corrected", tagged.plan)
    if (corrected.tag, corrected.length) != (tagged.offcut.tag, tagged.offcut.length):
        raise ProblemError("A tag never changes, and a length is measured anew.")
    if tagged.state is State.RESERVED and replace(corrected, place=tagged.offcut.place) != tagged.offcut:
        _require(tagged, (State.FREE, State.QUARANTINED), "corrected")
    entry = Entry(kind=Kind.CORRECT, thing=corrected.tag, reason=reason)
    return Move(replace(tagged, offcut=corrected), entry)


def withdraw(tagged: Tagged, *, short: bool = False) -> Tagged:
    """
    Give an offcut whose birth was reported by mistake: it never came about, and its tag is kept for its bar.

    Parameters
    ----------
    short
        Whether it was too short for the rack: then it has been scrap from the beginning.

    Raises
    ------
    StockConflict
        When it is not as it was born: somebody has it, or something has become of it.
    """
    _require(tagged, (State.SCRAPPED if short else State.FREE,), "taken off the rack")
    return Tagged(offcut=tagged.offcut, state=State.WITHDRAWN)


def give_back(tagged: Tagged, plan: str, was: State) -> Tagged:
    """
    Give an offcut back to the plan that was to cut it: what was reported of it was a mistake.

    Parameters
    ----------
    was
        What the report has made of it: cut, quarantined, or lost.

    Raises
    ------
    StockConflict
        When it is not that any more.
    """
    strange = was is State.CUT and tagged.plan != plan
    if tagged.state is not was or strange:
        wanted = f"given back to plan {plan}"
        raise StockConflict(tagged.offcut.tag, tagged.state.value, plan=tagged.plan, wanted=wanted)
    return Tagged(offcut=tagged.offcut, state=State.RESERVED, plan=plan)


def require_reserved(tagged: Tagged, plan: str) -> None:
    """
    Make sure the plan has the offcut.

    Raises
    ------
    StockConflict
        When it has not.
    """
    if tagged.state is not State.RESERVED or tagged.plan != plan:
        raise StockConflict(tagged.offcut.tag, tagged.state.value, plan=tagged.plan)


def _require(tagged: Tagged, allowed: tuple[State, ...], wanted: str, plan: str = "") -> None:
    others = tagged.state is State.RESERVED and tagged.plan != plan
    if tagged.state not in allowed or others:
        raise StockConflict(tagged.offcut.tag, tagged.state.value, plan=tagged.plan, wanted=wanted)


def _gone(
    tagged: Tagged, state: State, kind: Kind, account: Account, reason: str, plan: str = "", bar: int = 0
) -> Move:
    length = tagged.offcut.length
    entry = Entry(
        kind=kind,
        thing=tagged.offcut.tag,
        plan=plan,
        bar=bar,
        postings=moved((Account.STORE, -length), (account, length)),
        reason=reason,
    )
    return Move(Tagged(offcut=tagged.offcut, state=state), entry)
