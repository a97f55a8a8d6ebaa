"""Offcuts that a list brings along: those this rack does not have, and those it knows otherwise."""

from __future__ import annotations

import re
from collections.abc import Collection
from dataclasses import dataclass

from sqlalchemy.orm import Session

from api.catalogue.contents import offcut_of
from api.offcuts.schemas import TAG_PATTERN
from api.offcuts.service import known_offcuts, receive, same_to_cut
from nesting.domain.stock import Offcut
from nesting.stockroom.states import State
from nesting.units import Length


@dataclass(frozen=True, slots=True)
class Otherwise:
    """
    An offcut whose tag stands for something else on the rack.

    Parameters
    ----------
    here
        Its length on the rack.
    state
        What it is on the rack: free, or why nobody can have it.
    """

    offcut: Offcut
    here: Length
    state: str

    @property
    def measured(self) -> bool:
        """Whether the two lengths differ; else it is of another material, or not free."""
        return self.here != self.offcut.length


@dataclass(frozen=True, slots=True)
class Brought:
    """
    What a list's offcuts are to the rack; those that lie there as the list says are left out.

    Parameters
    ----------
    new
        Not on the rack: a plan that cuts them cannot be released.
    unnamed
        Not on the rack, and with a tag that it cannot keep.
    otherwise
        Known under the same tag, but not as the list says: somebody has to look.
    """

    new: tuple[Offcut, ...] = ()
    unnamed: tuple[Offcut, ...] = ()
    otherwise: tuple[Otherwise, ...] = ()

    @property
    def anything(self) -> bool:
        """Whether any of them stands in the way of a release."""
        return bool(self.new or self.unnamed or self.otherwise)


def brought(session: Session, offcuts: Collection[Offcut]) -> Brought:
    """Tell which offcuts the rack does not have, or has otherwise."""
    new: list[Offcut] = []
    unnamed: list[Offcut] = []
    otherwise: list[Otherwise] = []
    known = known_offcuts(session, (offcut.tag for offcut in offcuts))
    for offcut in offcuts:
        row = known.get(offcut.tag)
        if row is None:
            (new if re.fullmatch(TAG_PATTERN, offcut.tag) else unnamed).append(offcut)
        elif row.state != State.FREE.value or not same_to_cut(offcut, offcut_of(row)):
            otherwise.append(Otherwise(offcut, Length(row.length), row.state))
    return Brought(tuple(new), tuple(unnamed), tuple(otherwise))


def put_on_rack(session: Session, offcuts: Collection[Offcut], reason: str, by: str, now: int) -> int:
    """
    Put on the rack what is new of a list's offcuts, and nothing else; give how many that were.

    Raises
    ------
    Problem
        When one of them is said to be cut on a day to come.
    """
    new = brought(session, offcuts).new
    for offcut in new:
        receive(session, offcut, reason, by, now)
    return len(new)
