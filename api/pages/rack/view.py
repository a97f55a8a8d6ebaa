"""The rack as a list: what lies where, how old it is, what it is worth, who has it."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy.orm import Session

from api.pages.rack.find import ON_A_PAGE, Choices, Wanted, choices, find_offcuts
from api.pages.rack.words import (
    Holder,
    age_words,
    cheapest_bars,
    day_words,
    ends_words,
    holders,
    state_words,
    worth_as_new,
)
from api.pages.totals import total_words
from api.store.models import OffcutRow
from nesting.domain.stock import EndState
from nesting.money import money_text
from nesting.reports.lengths import BothUnits
from nesting.stockroom.states import State
from nesting.units import Length


@dataclass(frozen=True, slots=True, kw_only=True)
class OffcutLine:
    """
    One offcut as a row of the list, all in words.

    Parameters
    ----------
    age, since
        How long it has been on the rack, and the day it came.
    value
        What taking it costs a job; empty where nothing is asked.
    worth
        What new metal of its length would cost; empty where no price is known.
    holder
        The plan that has it.
    """

    tag: str
    family: str
    finish: str
    part: str
    length: str
    other_length: str
    ends: str
    lot: str
    place: str
    age: str
    since: str
    seen: str
    value: str
    worth: str
    state: str
    held: bool
    holder: Holder | None


@dataclass(frozen=True, slots=True, kw_only=True)
class RackView:
    """
    The list with its filters.

    Parameters
    ----------
    said
        What is listed, in a sentence: ``10 offcuts, 11.19 m, worth 63.70 as new metal``.
    pages
        Pages there are.
    """

    wanted: Wanted
    choices: Choices
    lines: tuple[OffcutLine, ...]
    count: int
    said: str
    pages: int


def show_rack(session: Session, wanted: Wanted, lengths: BothUnits, now: int) -> RackView:
    """Give one page of the rack."""
    found = find_offcuts(session, wanted)
    bars = cheapest_bars(session, {row.family for row in found.rows})
    having = holders(session, found.rows)
    lines = tuple(offcut_line(row, having.get(row.tag), bars, lengths, now) for row in found.rows)
    worth = [worth_as_new(row.length, _material(row), bars) for row in found.rows if State(row.state).held]
    known = [one for one in worth if one is not None]
    said = "1 offcut" if found.count == 1 else f"{found.count} offcuts"
    if found.count:
        said += f", {total_words(found.length, lengths)} in all"
    if known and len(found.rows) == found.count:
        said += f", worth {money_text(sum(known))} as new metal"
    return RackView(
        wanted=wanted,
        choices=choices(session),
        lines=lines,
        count=found.count,
        said=said,
        pages=max(1, -(-found.count // ON_A_PAGE)),
    )


def offcut_line(
    row: OffcutRow,
    holder: Holder | None,
    bars: dict[tuple[str, str, str], list[tuple[int, int]]],
    lengths: BothUnits,
    now: int,
) -> OffcutLine:
    """Set out one offcut."""
    state = State(row.state)
    worth = worth_as_new(row.length, _material(row), bars) if state.held else None
    return OffcutLine(
        tag=row.tag,
        family=row.family,
        finish=row.finish,
        part=row.part,
        length=lengths.first(Length(row.length)),
        other_length=lengths.second(Length(row.length)),
        ends=ends_words(EndState(row.left), EndState(row.right)),
        lot=row.lot,
        place=row.place,
        age=age_words(row.born_at, now),
        since=day_words(row.born_at),
        seen=age_words(row.seen_at, now),
        value="" if row.value is None else money_text(row.value),
        worth="" if worth is None else money_text(worth),
        state=state_words(state),
        held=state.held,
        holder=holder,
    )


def _material(row: OffcutRow) -> tuple[str, str, str]:
    return (row.family, row.finish, row.part)
