"""One offcut: how it stands, who has it, what can be done with it, what has happened to it."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy.orm import Session

from api.offcuts.service import get_offcut
from api.pages.rack.acts import Act, acts_for
from api.pages.rack.history import Event, offcut_history
from api.pages.rack.view import OffcutLine, offcut_line
from api.pages.rack.words import Holder, cheapest_bars, holder_of, holders, plans_named
from nesting.reports.lengths import BothUnits
from nesting.stockroom.states import State


@dataclass(frozen=True, slots=True, kw_only=True)
class OffcutView:
    """
    An offcut with its history.

    Parameters
    ----------
    born
        The plan whose tail it was, with the bar; None when it was brought.
    left, right, value
        As a form shows them.
    version
        Goes back with a form, so that nobody overwrites what they have not seen.
    """

    line: OffcutLine
    born: Holder | None
    born_bar: int
    left: str
    right: str
    acts: tuple[Act, ...]
    version: int
    events: tuple[Event, ...]

    def may(self, act: str) -> bool:
        """Whether a thing can be done with it as it stands."""
        return Act(act) in self.acts


def show_offcut(session: Session, tag: str, lengths: BothUnits, now: int) -> OffcutView:
    """
    Give one offcut, also one that is long gone.

    Raises
    ------
    Problem
        When there is no such tag.
    """
    row = get_offcut(session, tag)
    bars = cheapest_bars(session, {row.family})
    plans = plans_named(session, {row.born_plan} if row.born_plan else set())
    return OffcutView(
        line=offcut_line(row, holders(session, [row]).get(tag), bars, lengths, now),
        born=holder_of(plans[row.born_plan]) if row.born_plan in plans else None,
        born_bar=row.born_bar or 0,
        left=row.left,
        right=row.right,
        acts=acts_for(State(row.state)),
        version=row.version,
        events=offcut_history(session, tag, lengths),
    )
