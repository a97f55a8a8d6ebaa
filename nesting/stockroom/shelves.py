"""Whole bars of one stock length: counts by state, each change with what the ledger says of it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum

from nesting.domain.material import Part
from nesting.errors import ProblemError
from nesting.stockroom.ledger import Account, Entry, Kind, moved
from nesting.stockroom.states import StockConflict
from nesting.units import Length


@dataclass(frozen=True, slots=True, kw_only=True)
class Shelf:
    """
    The bars of one stock length.

    Parameters
    ----------
    key
        Name in the ledger, unique.
    free, quarantined
        Bars anybody may plan on, bars set aside.
    reserved
        Pairs (plan, bars), plan ascending, bars at least 1.
    orderable
        Whether more can be bought: then a plan may be released before its bars have come.
    """

    key: str
    family: str
    finish: str = ""
    part: Part = Part.CHANNEL
    length: Length
    free: int = 0
    quarantined: int = 0
    reserved: tuple[tuple[str, int], ...] = ()
    orderable: bool = True

    def __post_init__(self) -> None:
        """Refuse fewer bars than none."""
        if self.length <= 0:
            raise ProblemError("A bar needs a length.")
        if self.free < 0 or self.quarantined < 0 or any(bars < 1 for _, bars in self.reserved):
            raise ProblemError(f"The shelf {self.key!r} holds fewer bars than none.")

    @property
    def on_hand(self) -> int:
        """Bars that stand there, whoever has them."""
        return self.free + self.quarantined + sum(bars for _, bars in self.reserved)

    def reserved_for(self, plan: str) -> int:
        """Bars kept for a plan."""
        return dict(self.reserved).get(plan, 0)


@dataclass(frozen=True, slots=True)
class ShelfMove:
    """A shelf after a change, and the ledger's entries."""

    after: Shelf
    entries: tuple[Entry, ...]


def receive_bars(shelf: Shelf, bars: int, *, reason: str = "", plan: str = "") -> ShelfMove:
    """Put delivered bars on the shelf."""
    after = replace(shelf, free=shelf.free + bars)
    return ShelfMove(after, (_entry(shelf, Kind.RECEIVE, bars, Account.OUTSIDE, reason=reason, plan=plan),))


def count_bars(shelf: Shelf, counted: int, *, reason: str) -> ShelfMove:
    """
    Set the free bars to what was counted.

    Raises
    ------
    StockConflict
        When fewer were counted than other plans have reserved or are set aside.
    """
    kept = shelf.on_hand - shelf.free
    if counted < kept:
        plans = ", ".join(plan for plan, _ in shelf.reserved)
        raise StockConflict(shelf.key, f"kept for {kept} bars", plan=plans, wanted=f"counted as {counted}")
    found = counted - shelf.on_hand
    after = replace(shelf, free=shelf.free + found)
    return ShelfMove(after, (_entry(shelf, Kind.COUNT, found, Account.MEASURE, reason=reason),))


def reserve_bars(shelf: Shelf, plan: str, bars: int) -> ShelfMove:
    """
    Keep bars for a plan; of a length that can be bought, what the shelf has, the rest is to come.

    Raises
    ------
    StockConflict
        When the shelf has too few and no more can be bought.
    """
    taken = min(bars, shelf.free)
    if taken < bars and not shelf.orderable:
        plans = ", ".join(holder for holder, _ in shelf.reserved)
        state = f"down to {shelf.free} free bars, {bars} are needed"
        raise StockConflict(shelf.key, state, plan=plans)
    if not taken:
        return ShelfMove(shelf, ())
    after = _with_reserved(replace(shelf, free=shelf.free - taken), plan, taken)
    return ShelfMove(after, (Entry(kind=Kind.RESERVE, thing=shelf.key, bars=taken, plan=plan),))


def free_bars(shelf: Shelf, plan: str) -> ShelfMove:
    """Give all the bars a plan still has back to everybody."""
    bars = shelf.reserved_for(plan)
    if not bars:
        return ShelfMove(shelf, ())
    after = _with_reserved(replace(shelf, free=shelf.free + bars), plan, -bars)
    return ShelfMove(after, (Entry(kind=Kind.FREE, thing=shelf.key, bars=bars, plan=plan),))


class Taken(StrEnum):
    """Which bar the saw takes: one kept for its plan, a free one, or one that has just been delivered."""

    RESERVED = "reserved"
    FREE = "free"
    DELIVERED = "delivered"


def next_taken(shelf: Shelf, plan: str) -> Taken:
    """Give which bar ``take_bar`` takes for a plan."""
    if shelf.reserved_for(plan):
        return Taken.RESERVED
    return Taken.FREE if shelf.free else Taken.DELIVERED


def take_bar(shelf: Shelf, plan: str) -> ShelfMove:
    """
    Take one bar for the saw: a reserved one, else a free one, else one that has just been delivered.

    The bar is off the shelf in ``after``; the ledger's entry for that is the cut's.

    Raises
    ------
    StockConflict
        When there is none and no more can be bought.
    """
    taken = next_taken(shelf, plan)
    if taken is Taken.RESERVED:
        return ShelfMove(_with_reserved(shelf, plan, -1), ())
    if taken is Taken.FREE:
        return ShelfMove(replace(shelf, free=shelf.free - 1), ())
    if not shelf.orderable:
        raise StockConflict(shelf.key, "empty", plan=", ".join(holder for holder, _ in shelf.reserved))
    reason = "delivered for the plan"
    return ShelfMove(shelf, (_entry(shelf, Kind.RECEIVE, 1, Account.OUTSIDE, plan=plan, reason=reason),))


def give_bar_back(
    shelf: Shelf, plan: str, bar: int, taken: Taken, *, set_aside: bool = False, reason: str
) -> ShelfMove:
    """
    Put the bar that the saw took back where it was: what was reported of it was a mistake.

    The ledger's entries are those for its delivery alone; the report's own are countered as they are written.

    Parameters
    ----------
    bar
        Its number in the plan.
    taken
        Which bar it was when it was taken; one delivered for the plan is to come again.
    set_aside
        Whether it was set aside, and not cut or lost.

    Raises
    ------
    StockConflict
        When none is set aside any more.
    """
    if set_aside:
        _require_quarantined(shelf, 1, "given back to its plan")
        shelf = replace(shelf, quarantined=shelf.quarantined - 1)
    if taken is Taken.RESERVED:
        return ShelfMove(_with_reserved(shelf, plan, 1), ())
    if taken is Taken.FREE:
        return ShelfMove(replace(shelf, free=shelf.free + 1), ())
    entry = _entry(shelf, Kind.WITHDRAW, -1, Account.OUTSIDE, plan=plan, bar=bar, reason=reason)
    return ShelfMove(shelf, (entry,))


def quarantine_bars(shelf: Shelf, bars: int, *, reason: str) -> ShelfMove:
    """
    Set free bars aside.

    Raises
    ------
    StockConflict
        When there are not so many free ones.
    """
    if bars > shelf.free:
        raise StockConflict(shelf.key, f"down to {shelf.free} free bars", wanted="quarantined")
    after = replace(shelf, free=shelf.free - bars, quarantined=shelf.quarantined + bars)
    return ShelfMove(after, (Entry(kind=Kind.QUARANTINE, thing=shelf.key, bars=bars, reason=reason),))


def quarantine_plans_bar(shelf: Shelf, plan: str, bar: int, *, reason: str) -> ShelfMove:
    """
    Set aside the bar a plan was about to cut, e.g. for a dent.

    Raises
    ------
    StockConflict
        When there is none to set aside.
    """
    taken = take_bar(shelf, plan)
    after = replace(taken.after, quarantined=taken.after.quarantined + 1)
    entry = Entry(kind=Kind.QUARANTINE, thing=shelf.key, bars=1, plan=plan, bar=bar, reason=reason)
    return ShelfMove(after, (*taken.entries, entry))


def restore_bars(shelf: Shelf, bars: int, *, reason: str) -> ShelfMove:
    """
    Put bars that were set aside back among the free ones.

    Raises
    ------
    StockConflict
        When not so many are set aside.
    """
    _require_quarantined(shelf, bars, "restored")
    after = replace(shelf, quarantined=shelf.quarantined - bars, free=shelf.free + bars)
    return ShelfMove(after, (Entry(kind=Kind.RESTORE, thing=shelf.key, bars=bars, reason=reason),))


def scrap_bars(shelf: Shelf, bars: int, *, reason: str) -> ShelfMove:
    """
    Throw bars away that were set aside.

    Raises
    ------
    StockConflict
        When not so many are set aside.
    """
    _require_quarantined(shelf, bars, "scrapped")
    after = replace(shelf, quarantined=shelf.quarantined - bars)
    return ShelfMove(after, (_entry(shelf, Kind.SCRAP, -bars, Account.SCRAP, reason=reason),))


def lose_plans_bar(shelf: Shelf, plan: str, bar: int, *, reason: str) -> ShelfMove:
    """
    Note that a bar a plan was about to cut is not there.

    Raises
    ------
    StockConflict
        When the books have none either, and no more can be bought.
    """
    taken = take_bar(shelf, plan)
    entry = _entry(shelf, Kind.LOSE, -1, Account.LOST, plan=plan, bar=bar, reason=reason)
    return ShelfMove(taken.after, (*taken.entries, entry))


def _require_quarantined(shelf: Shelf, bars: int, wanted: str) -> None:
    if bars > shelf.quarantined:
        raise StockConflict(shelf.key, f"down to {shelf.quarantined} quarantined bars", wanted=wanted)


def _with_reserved(shelf: Shelf, plan: str, change: int) -> Shelf:
    held = dict(shelf.reserved)
    held[plan] = held.get(plan, 0) + change
    return replace(shelf, reserved=tuple(sorted((p, n) for p, n in held.items() if n)))


def _entry(
    shelf: Shelf, kind: Kind, bars: int, other: Account, *, plan: str = "", bar: int = 0, reason: str = ""
) -> Entry:
    """Give the entry for bars that come (positive) from another account or go (negative) to it."""
    length = bars * shelf.length
    return Entry(
        kind=kind,
        thing=shelf.key,
        bars=bars,
        plan=plan,
        bar=bar,
        postings=moved((other, -length), (Account.STORE, length)),
        reason=reason,
    )
