"""What became of a bar, as its row says: open, cut with its tail, set aside, not found."""

from __future__ import annotations

from dataclasses import dataclass

from api.pages.saw.strokes import Said, said_of
from api.plans.cutting import Outcome
from api.plans.states import BarState
from api.store.models import BarRow, LedgerRow, OffcutRow
from nesting.reports.lengths import BothUnits

STATE_WORDS = {
    BarState.OPEN: "to cut",
    BarState.CUT: "cut",
    BarState.DEFECT: "set aside: defect",
    BarState.MISSING: "not found",
    BarState.WITHDRAWN: "not cut any more",
}


@dataclass(frozen=True, slots=True)
class Born:
    """The offcut a tail became: its tag, its length as measured, and where it was put."""

    tag: str
    length: Said
    place: str


@dataclass(frozen=True, slots=True)
class TakenBack:
    """A report on a bar that was taken back: why, by whom, and when in microseconds since 1970 UTC."""

    reason: str
    by: str
    at: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Result:
    """
    How far the shop is with a bar.

    Parameters
    ----------
    again
        Pieces that must be made again.
    kept
        Of those, the pieces of which something came out that is kept, each with its tag.
    short
        Of their tags, what is too short for the rack.
    made
        Cuts made before the bar was given up for a defect; None when it was not.
    by, at
        Who reported it, and when: microseconds since 1970 UTC.
    may_go_back
        Whether the report can be taken back as plan and bar stand.
    taken_back
        The last report on it that was taken back; None when none was.
    """

    state: BarState
    words: str
    born: Born | None = None
    again: tuple[str, ...] = ()
    kept: tuple[tuple[str, str], ...] = ()
    short: tuple[str, ...] = ()
    made: int | None = None
    note: str = ""
    by: str = ""
    at: int | None = None
    may_go_back: bool = False
    taken_back: TakenBack | None = None

    @property
    def open(self) -> bool:
        """Whether the bar is still to be cut."""
        return self.state is BarState.OPEN

    @property
    def cut(self) -> bool:
        """Whether the bar was cut."""
        return self.state is BarState.CUT


def given_up_words(made: int, left: int) -> str:
    """Say how far a bar was cut that was then given up."""
    return f"{made} of {made + left} cuts made, then set aside: defect" if made else "set aside: defect"


def result_of_bar(
    row: BarRow,
    born: OffcutRow | None,
    lengths: BothUnits,
    *,
    may_go_back: bool = False,
    withdrawn: LedgerRow | None = None,
) -> Result:
    """
    Give what became of a bar.

    Parameters
    ----------
    born
        The offcut its tail became, as it was when it was put on the rack.
    may_go_back
        Whether the report can be taken back.
    withdrawn
        The entry under which a report on it was last taken back.
    """
    state, said = BarState(row.state), row.report or {}
    given_up = state is BarState.CUT and said.get("outcome") == Outcome.DEFECT
    made = int(said.get("made", 0)) if given_up else None
    return Result(
        state=state,
        words=STATE_WORDS[state] if made is None else given_up_words(made, len(said["spoiled"])),
        born=None if born is None else Born(born.tag, said_of(born.length, lengths), born.place),
        again=tuple(row.open_pieces),
        kept=tuple(dict(said.get("kept", {})).items()),
        short=tuple(said.get("short", ())),
        made=made,
        note=str(said.get("note", "")),
        by=row.reported_by or "",
        at=row.reported_at,
        may_go_back=may_go_back,
        taken_back=TakenBack(withdrawn.reason, withdrawn.by, withdrawn.at) if withdrawn else None,
    )
