"""The ledger of the stockroom: where every metre came from and went to, in entries that sum to zero."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum

from nesting.errors import ProblemError


class Account(StrEnum):
    """
    Where length can be.

    ``outside`` is the supplier and everything before the stockroom, ``store`` what shelves and rack
    hold; ``good``, ``kerf``, ``trim`` and ``scrap`` are what cutting makes of it; ``paired`` is cover
    that stays with the offcut of its channel; ``lost`` is length nobody can find, ``measure`` the
    difference between a measured and an expected length.
    """

    OUTSIDE = "outside"
    STORE = "store"
    GOOD = "good"
    KERF = "kerf"
    TRIM = "trim"
    SCRAP = "scrap"
    PAIRED = "paired"
    LOST = "lost"
    MEASURE = "measure"


class Kind(StrEnum):
    """What happened, in the shop's words."""

    RECEIVE = "receive"
    RESERVE = "reserve"
    FREE = "free"
    CUT = "cut"
    TAIL = "tail"
    QUARANTINE = "quarantine"
    RESTORE = "restore"
    SCRAP = "scrap"
    LOSE = "lose"
    FIND = "find"
    COUNT = "count"
    MEASURE = "measure"
    CORRECT = "correct"
    WITHDRAW = "withdraw"


@dataclass(frozen=True, slots=True)
class Posting:
    """Length that enters (positive) or leaves (negative) an account, nanometres."""

    account: Account
    length: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """
    One movement.

    Parameters
    ----------
    thing
        The offcut's tag or the shelf's key.
    bars
        Whole bars moved; 0 for an offcut.
    plan, bar
        The plan and its bar number that caused it; empty and 0 otherwise.
    postings
        Empty when nothing moved (a reservation), else they sum to zero.

    Raises
    ------
    ProblemError
        When the postings do not sum to zero.
    """

    kind: Kind
    thing: str
    bars: int = 0
    plan: str = ""
    bar: int = 0
    postings: tuple[Posting, ...] = ()
    reason: str = ""

    def __post_init__(self) -> None:
        """Refuse an entry that makes or loses length."""
        if sum(p.length for p in self.postings):
            raise ProblemError(f"The entry {self.kind.value} of {self.thing!r} does not sum to zero.")


def moved(*postings: tuple[Account, int]) -> tuple[Posting, ...]:
    """Give postings of the amounts that are not zero."""
    return tuple(Posting(account, length) for account, length in postings if length)


def countered(entries: Iterable[Entry], *, reason: str) -> tuple[Entry, ...]:
    """
    Give the entries that put back all that others have moved; the others stay as they are written.

    Parameters
    ----------
    reason
        Why it is put back.
    """
    return tuple(
        Entry(
            kind=Kind.WITHDRAW,
            thing=entry.thing,
            bars=abs(entry.bars),
            plan=entry.plan,
            bar=entry.bar,
            postings=tuple(Posting(one.account, -one.length) for one in entry.postings),
            reason=reason,
        )
        for entry in entries
    )


def balance(entries: Iterable[Entry]) -> Mapping[Account, int]:
    """Give the length in every account after the entries, nanometres; all accounts sum to zero."""
    sums: Counter[Account] = Counter(dict.fromkeys(Account, 0))
    for entry in entries:
        for posting in entry.postings:
            sums[posting.account] += posting.length
    return sums


def held_by_thing(entries: Iterable[Entry]) -> Mapping[str, int]:
    """Give the length each tag or shelf still holds after the entries, nanometres; zeros left out."""
    sums: Counter[str] = Counter()
    for entry in entries:
        sums[entry.thing] += sum(p.length for p in entry.postings if p.account is Account.STORE)
    return {thing: length for thing, length in sums.items() if length}
