"""The small parts of the whole plan to lay out and tick: counted, by the metre, reel by reel, electrical."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from math import ceil
from pathlib import Path

from nesting.domain.electrics import PLANNING_AID
from nesting.domain.plan import Plan
from nesting.domain.reels import ReelPlan
from nesting.domain.small_parts import Hand
from nesting.paper.faces import Face
from nesting.paper.flow import Block, Line, Section, Space, content_width, paragraph, print_pages
from nesting.paper.page_size import PageSize
from nesting.paper.tables import FIELD, TICK, Cell, Column, Heading, Title, rows_of
from nesting.reports.lengths import BothUnits
from nesting.reports.small_part_words import PartRow, needed_part_rows
from nesting.units import Length

_COUNTED = (
    Column("got", 0.055),
    Column("count", 0.16, 17, Face.BOLD, lines=1),
    Column("which", 0.235, 12, Face.BOLD),
    Column("family", 0.24, 11),
    Column("finish", 0.18, 11),
    Column("spares", 0.13),
)
_MEASURED = (
    Column("got", 0.055),
    Column("at least", 0.27, 13, Face.BOLD),
    Column("what", 0.265, 11, Face.BOLD),
    Column("family or strip", 0.22, 11),
    Column("finish", 0.19, 11),
)
_REELS = (
    Column("got", 0.055),
    Column("reels", 0.1, 17, Face.BOLD, lines=1),
    Column("strip", 0.24, 12, Face.BOLD),
    Column("each", 0.285, 11),
    Column("can it be fewer?", 0.32, 9.5),
)
_CUTS = (
    Column("done", 0.055),
    Column("reel", 0.065, 13, Face.BOLD),
    Column("cut no.", 0.065, 11),
    Column("marks", 0.075, 14, Face.BOLD, lines=1),
    Column("length", 0.215, 10),
    Column("run", 0.175, 11, Face.CODE),
    Column("job", 0.15, 10),
    Column("fixture", 0.065, 11),
    Column("piece", 0.06, 11),
    Column("rest", 0.075, 9),
)
# Their headings stand at the top of every page instead.
_CUT_ROWS = tuple(replace(column, title="") for column in _CUTS)
_ADVICE = (
    Column("advice", 0.11, 11, Face.BOLD),
    Column("strip", 0.18, 11),
    Column("watts", 0.14, 12, Face.BOLD, lines=1),
    Column("outputs", 0.12, 12, lines=1),
    Column("how it was worked out", 0.45, 9.5),
)
# What is laid out by number, in the order of the tables; the rest is measured.
_COUNTED_PARTS = (
    ("cap", "Caps"),
    ("clip", "Clips"),
    ("joint set", "Joint sets"),
    ("connector", "Connectors"),
)
_MEASURED_PARTS = ("adhesive", "strip")
_ADVISED_PARTS = ("load", "driver")
_NM_PER_FOOT = 304_800_000
_NM_PER_M = 1_000_000_000


def write_small_parts(path: Path, plan: Plan, lengths: BothUnits, page: PageSize) -> int:
    """
    Write what goes into the bags and onto the bench for the whole plan; gives the number of pages.

    Parameters
    ----------
    lengths
        The shop's unit; metres of strip and adhesive are rounded up, never down.
    """
    width = content_width(page)
    rows = needed_part_rows(plan)
    blocks = (
        *_intro(plan, width),
        *_counted(rows),
        *rows_of(
            Title("By the metre"),
            _MEASURED,
            [_metres(row) for row in _of(rows, _MEASURED_PARTS)],
            height=10.0,
        ),
        *_advice(rows, width),
        *rows_of(Title("Reels"), _REELS, [_reels(one, lengths) for one in plan.reels], height=11.0),
    )
    return print_pages(
        path,
        page,
        (Section((), blocks, one_list=True), *(_cuts(one, lengths) for one in plan.reels)),
        name="Small parts",
        plan_id=plan.id,
        title=plan.request.title,
        note="Counted from the runs of the whole plan, without spares.",
    )


def _of(rows: Sequence[PartRow], parts: Sequence[str]) -> tuple[PartRow, ...]:
    return tuple(row for row in rows if row.part in parts)


def _intro(plan: Plan, width: float) -> Iterator[Block]:
    yield from paragraph("To lay out for the whole plan", width, size=20, face=Face.BOLD)
    handed = plan.small_parts is not None and any(
        cap.kind.hand is not Hand.NONE for cap in plan.small_parts.caps
    )
    said = "Write the spares you take beside the count."
    if handed:
        said = f"Left and right are seen facing the lit face. {said}"
    yield from paragraph(said, width, size=10.5)
    if plan.unplaced:
        words = "The plan is not complete: a run that it leaves out whole has no parts in this list."
        yield from paragraph(words, width, size=11, face=Face.BOLD, loud=True)


def _counted(rows: Sequence[PartRow]) -> Iterator[Block]:
    for part, title in _COUNTED_PARTS:
        lines = _of(rows, (part,))
        total = sum(row.count or 0 for row in lines)
        cells: list[tuple[Cell, ...]] = [
            (TICK, str(row.count), row.kind or part, row.family, row.finish, FIELD) for row in lines
        ]
        yield from rows_of(Title(f"{title}, {total} in all"), _COUNTED, cells, height=11.0)


def _metres(row: PartRow) -> tuple[Cell, ...]:
    amount = row.amount or Fraction(0)
    feet = amount * _NM_PER_M / _NM_PER_FOOT
    metres = f"{_up(amount, 3)} m ({_up(feet, 1)} ft)"
    return TICK, metres, f"{row.part}, {row.kind}", row.family, row.finish


def _advice(rows: Sequence[PartRow], width: float) -> Iterator[Block]:
    lines = _of(rows, _ADVISED_PARTS)
    if not lines:
        return
    cells: list[tuple[Cell, ...]] = [
        (
            row.part,
            row.family,
            f"{_up(row.amount or Fraction(0), 2)} {row.unit}",
            "" if row.count is None else str(row.count),
            row.note or "all strip of this article lit at once",
        )
        for row in lines
    ]
    yield from rows_of(Title("Load and drivers: advice, no order"), _ADVICE, cells, height=11.0)
    yield Space(1.5)
    yield from paragraph(PLANNING_AID, width, size=11, face=Face.BOLD, loud=True)


def _reels(one: ReelPlan, lengths: BothUnits) -> tuple[Cell, ...]:
    proof = "no, that is proved" if one.proved else f"perhaps; at least {one.bound} are needed"
    return TICK, str(len(one.reels)), one.strip, f"{lengths.both(one.reel)}, {one.marks} marks", proof


def _cuts(one: ReelPlan, lengths: BothUnits) -> Section:
    """Give an article's pieces in the order they come off the reels; the last of a reel tells its rest."""
    cells: list[tuple[Cell, ...]] = []
    for reel in one.reels:
        for number, cut in enumerate(reel.cuts, start=1):
            rest = f"{reel.rest} left" if number == len(reel.cuts) else ""
            length = lengths.both(Length(int(cut.marks * one.pitch)))
            own = (str(cut.marks), length, cut.run, cut.job, str(cut.copy), str(cut.part))
            cells.append((TICK, str(reel.number), str(number), *own, rest))
    title = Line(f"Strip {one.strip}: cut on marks only, power off", 13, Face.BOLD, below=1.5)
    return Section((title, Heading(_CUTS)), rows_of(Space(0), _CUT_ROWS, cells, height=10.0), one_list=True)


def _up(value: Fraction, places: int) -> str:
    """Give a figure rounded up, trailing zeros dropped."""
    whole, rest = divmod(ceil(value * 10**places), 10**places)
    return f"{whole}.{rest:0{places}d}".rstrip("0").rstrip(".")
