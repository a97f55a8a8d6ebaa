"""Drafts as they are kept: a list, its corrected cells and what was chosen for it, until it is planned."""

from __future__ import annotations

import zlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from sqlalchemy import func, select
from sqlalchemy.orm import Session, undefer

from api.access.keys import Caller
from api.store.ids import new_id
from api.store.models import DraftRow
from api.web.problems import not_found
from nesting.errors import Where
from nesting.sheets.corrections import Correction

MOST = 200
"""Drafts kept; the one that was left alone the longest gives way to a new one."""
MOST_BYTES = 400_000_000
"""Room for all drafts together, compressed."""
MOST_CORRECTIONS = 5_000
LONGEST_CELL = 500


@dataclass(frozen=True, slots=True)
class Corrected:
    """A corrected cell: what it counts as, and what stood there in the file."""

    where: Where
    text: str
    was: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft:
    """
    A list on its way to a plan.

    Parameters
    ----------
    choices
        What was typed beside the list, by field, as it was typed.
    plan_id
        The plan that was last made of it; None before.
    planned
        Whether that plan is of the draft as it stands now.
    """

    id: str
    name: str
    body: bytes
    corrections: tuple[Corrected, ...]
    choices: Mapping[str, str]
    made_at: int
    made_by: str
    version: int
    plan_id: str | None
    planned: bool

    @property
    def typed(self) -> tuple[Correction, ...]:
        """Give the corrections as the reader of lists takes them."""
        return tuple(Correction(one.where, one.text) for one in self.corrections)


def keep_draft(session: Session, name: str, body: bytes, caller: Caller, now: int) -> str:
    """Keep a list as a draft; give its id. Where there is no room, those left alone longest are dropped."""
    packed = zlib.compress(body, 3)
    _make_room(session, len(packed))
    row = DraftRow(
        id=new_id(),
        name=name[-200:] or "list",
        body=packed,
        size=len(packed),
        corrections=[],
        choices={},
        made_at=now,
        made_by=caller.label,
        changed_at=now,
    )
    session.add(row)
    return row.id


def _make_room(session: Session, size: int) -> None:
    count, total = session.execute(
        select(func.count(), func.coalesce(func.sum(DraftRow.size), 0)).select_from(DraftRow)
    ).one()
    oldest_first = session.scalars(select(DraftRow).order_by(DraftRow.changed_at, DraftRow.id))
    for row in oldest_first:
        if count < MOST and total + size <= MOST_BYTES:
            break
        session.delete(row)
        count, total = count - 1, total - row.size


def draft_row(session: Session, draft_id: str, *, lock: bool = False) -> DraftRow:
    """
    Give a draft's row.

    Raises
    ------
    Problem
        When there is no such draft.
    """
    query = select(DraftRow).where(DraftRow.id == draft_id)
    if lock:
        query = query.with_for_update().execution_options(populate_existing=True)
    row = session.execute(query).scalar_one_or_none()
    if row is None:
        raise not_found("such list any more; the lists left alone the longest are dropped")
    return row


def read_draft(session: Session, draft_id: str) -> Draft:
    """
    Give a draft.

    Raises
    ------
    Problem
        When there is no such draft.
    """
    row = session.execute(
        select(DraftRow).where(DraftRow.id == draft_id).options(undefer(DraftRow.body))
    ).scalar_one_or_none() or draft_row(session, draft_id)
    return Draft(
        id=row.id,
        name=row.name,
        body=zlib.decompress(row.body),
        corrections=tuple(
            Corrected(Where(source, at), text, was) for source, at, text, was in row.corrections
        ),
        choices=dict(row.choices),
        made_at=row.made_at,
        made_by=row.made_by,
        version=row.version,
        plan_id=row.plan_id,
        planned=row.planned_version == row.version,
    )


def list_drafts(session: Session, most: int) -> Sequence[DraftRow]:
    """Give the drafts that were not planned as they stand, last changed first."""
    query = (
        select(DraftRow)
        .where(DraftRow.planned_version.is_(None) | (DraftRow.planned_version != DraftRow.version))
        .order_by(DraftRow.changed_at.desc(), DraftRow.id.desc())
        .limit(most)
    )
    return session.scalars(query).all()


def correct_cells(
    session: Session, draft_id: str, typed: Mapping[Where, str], standing: Mapping[Where, str], now: int
) -> None:
    """
    Keep what cells are to count as.

    Parameters
    ----------
    typed
        What was typed into each; what the file says already takes a correction back.
    standing
        What stands in each as it was last read, corrections counted.

    Raises
    ------
    Problem
        When there is no such draft.
    """
    row = draft_row(session, draft_id, lock=True)
    kept = {
        Where(source, at): Corrected(Where(source, at), text, was)
        for source, at, text, was in row.corrections
    }
    before = dict(kept)
    for where, text in typed.items():
        was = kept[where].was if where in kept else standing.get(where, "")
        kept.pop(where, None)
        if text.strip() != was:
            kept[where] = Corrected(where, text.strip()[:LONGEST_CELL], was)
    if kept != before:
        newest = list(kept.values())[-MOST_CORRECTIONS:]
        row.corrections = [[c.where.source, c.where.at, c.text, c.was] for c in newest]
        _changed(row, now)


def choose(session: Session, draft_id: str, choices: Mapping[str, str], now: int) -> None:
    """
    Keep what was chosen beside the list.

    Raises
    ------
    Problem
        When there is no such draft.
    """
    row = draft_row(session, draft_id, lock=True)
    if row.choices != dict(choices):
        row.choices = dict(choices)
        _changed(row, now)


def _changed(row: DraftRow, now: int) -> None:
    row.version += 1
    row.changed_at = now
