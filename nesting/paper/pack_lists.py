"""Pack lists: every floor's units on one page, then a page for every unit's box."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby
from math import ceil
from pathlib import Path

from nesting.domain.material import Part
from nesting.domain.pieces import Piece
from nesting.domain.plan import Plan
from nesting.domain.small_parts import SmallParts
from nesting.paper.boxes import UnitBox, unit_boxes
from nesting.paper.faces import Face
from nesting.paper.flow import Block, Line, Section, Space, content_width, paragraph, print_pages
from nesting.paper.hatching import Box
from nesting.paper.page_size import PageSize
from nesting.paper.surface import Align, Surface
from nesting.paper.tables import TICK, Cell, Column, Heading, Row, Title, row_of, rows_of
from nesting.reports.bags import bag_rows, unit_bags
from nesting.reports.ends import ends_words
from nesting.reports.lengths import BothUnits
from nesting.reports.rooms import spread_jobs

_UNITS = (
    Column("packed", 0.08),
    Column("unit", 0.3, 14, Face.BOLD),
    Column("pieces", 0.12, 12),
    Column("longest piece", 0.28, 10),
    Column("complete after", 0.22, 10),
)
_PIECES = (
    Column("in", 0.055),
    Column("room", 0.2, 11, Face.BOLD),
    Column("piece", 0.215, 11.5, Face.CODE),
    Column("material", 0.2, 9),
    Column("length", 0.16, 10, Face.BOLD),
    Column("ends", 0.17, 8),
)
_BAG = (
    Column("in", 0.055),
    Column("count", 0.145, 13, Face.BOLD, lines=1),
    Column("small part", 0.35, 10.5, Face.BOLD),
    Column("family or strip", 0.25, 10),
    Column("finish", 0.2, 10),
)
_ROW, _BAG_ROW = 11.0, 7.5


@dataclass(frozen=True, slots=True)
class BoxHead:
    """
    Whose box it is, in type that is read from across the bench.

    Parameters
    ----------
    spread
        Whether the unit alone does not tell where the box goes, so that its building is as large.
    """

    packed: UnitBox
    lengths: BothUnits
    spread: bool = False
    height: float = 31.0

    def draw(self, surface: Surface, box: Box) -> None:
        """Print unit, floor, building, job, count and longest piece."""
        left = Box(box.x, box.y, box.width * 0.64, 13)
        surface.text(
            left,
            _in(self.packed.building, unit_name(self.packed), self.spread),
            size=30,
            face=Face.BOLD,
            lines=2,
        )
        right = Box(left.right + 2, box.y, box.right - left.right - 2, 13)
        surface.text(
            right, _floor_name(self.packed.floor), size=22, face=Face.BOLD, align=Align.RIGHT, lines=2
        )
        whose = " · ".join(_whose(self.packed.building, self.packed.job))
        surface.text(Box(box.x, box.y + 13.5, box.width * 0.6, 6), whose, size=11)
        count = _count(len(self.packed.pieces))
        surface.text(
            Box(box.x + box.width * 0.6, box.y + 13.5, box.width * 0.4, 6),
            f"box ____ of ____ · {count}",
            size=11,
            face=Face.BOLD,
            align=Align.RIGHT,
        )
        longest = f"longest piece {self.lengths.both(self.packed.longest)}" if self.packed.pieces else ""
        surface.text(Box(box.x, box.y + 20, box.width, 6.5), longest, size=13, face=Face.BOLD)
        surface.text(
            Box(box.x, box.y + 26, box.width, 4),
            "Tick each piece as it goes in. Film stays on. The bag of small parts stands below the pieces.",
            size=8.5,
        )


def write_pack_lists(path: Path, plan: Plan, lengths: BothUnits, page: PageSize) -> int:
    """Write floor by floor the units, then a page for each unit's box; gives the number of pages."""
    sections: list[Section] = []
    boxes, bags, spread = unit_boxes(plan), unit_bags(plan), spread_jobs(plan)
    for (job, building, floor), units in groupby(boxes, key=lambda box: (box.job, box.building, box.floor)):
        of_floor = tuple(units)
        wide = content_width(page)
        sections.append(_floor(job, building, floor, of_floor, lengths, spread=job in spread))
        sections += [
            _unit(BoxHead(box, lengths, job in spread), bags.get(box.key), lengths, wide) for box in of_floor
        ]
    return print_pages(
        path,
        page,
        sections,
        name="Pack lists",
        plan_id=plan.id,
        title=plan.request.title,
        note="A box leaves only when every line is ticked. Missing or damaged: write it down and report it.",
    )


def unit_name(box: UnitBox) -> str:
    """Give the unit as it is printed."""
    return box.unit or "no unit named"


def _in(building: str, name: str, spread: bool) -> str:
    """Give a unit or a floor, behind its building where that is needed."""
    return f"{building} · {name}" if spread and building else name


def _floor(
    job: str, building: str, floor: str, boxes: tuple[UnitBox, ...], lengths: BothUnits, *, spread: bool
) -> Section:
    pieces = sum(len(box.pieces) for box in boxes)
    count = f"{len(boxes)} unit{'s' if len(boxes) != 1 else ''}, {_count(pieces)}"
    head: tuple[Block, ...] = (
        Line(_in(building, _floor_name(floor), spread), 26, Face.BOLD),
        Line(" · ".join((*_whose(building, job), count)), 11, below=2),
        Heading(_UNITS),
    )
    return Section(head, tuple(_unit_row(box, lengths) for box in boxes), one_list=True)


def _unit_row(box: UnitBox, lengths: BothUnits) -> Row:
    short = f", {len(box.missing)} MISSING" if box.missing else ""
    longest = lengths.both(box.longest) if box.pieces else ""
    after = "never in this plan" if box.missing else f"bar {box.complete_after}"
    return row_of(
        _UNITS,
        (TICK, unit_name(box), f"{len(box.pieces)}{short}", longest, after),
        10.0,
        loud=bool(box.missing),
    )


def _unit(head: BoxHead, bag: SmallParts | None, lengths: BothUnits, width: float) -> Section:
    box = head.packed
    blocks: list[Block] = []
    if box.missing:
        blocks += paragraph(
            "THIS BOX IS NOT COMPLETE. The plan leaves out:", width, size=12, face=Face.BOLD, loud=True
        )
        for left_out in box.missing:
            name = left_out.piece or left_out.run
            words = f"{name}, {lengths.both(left_out.length)}: {left_out.reason}"
            blocks += paragraph(words, width, size=10, face=Face.BOLD, loud=True)
        blocks.append(Space(2))
    blocks += rows_of(Space(0), _PIECES, [_cells(piece, lengths) for piece, _ in box.pieces], height=_ROW)
    if bag is not None:
        blocks += rows_of(Title("Bag of small parts"), _BAG, _bagged(bag), height=_BAG_ROW)
    return Section((head,), tuple(blocks), one_list=True)


def _bagged(bag: SmallParts) -> list[tuple[Cell, ...]]:
    cells: list[tuple[Cell, ...]] = []
    for row in bag_rows(bag):
        what = " · ".join(word for word in (row.part, row.kind) if word)
        # Rounded up: a metre of tape too little stops the assembler, a millimetre too much nobody.
        count = f"{ceil(row.amount * 1000) / 1000:g} {row.unit}" if row.amount else str(row.count)
        cells.append((TICK, count, what, row.family, row.finish))
    return cells


def _cells(piece: Piece, lengths: BothUnits) -> tuple[Cell, ...]:
    material = piece.material
    part = "cover" if material.part is Part.COVER else "with cover" if piece.cover_length is not None else ""
    what = " ".join(p for p in (material.family, material.finish, part) if p)
    room = " · ".join(p for p in (piece.place.room, piece.place.spot) if p)
    return (TICK, room, piece.id, what, lengths.both(piece.stop), ends_words(piece))


def _whose(building: str, job: str) -> tuple[str, ...]:
    """Give building and job, once when they have one name."""
    return (building,) if building == job else tuple(p for p in (building, f"job {job}") if p)


def _floor_name(floor: str) -> str:
    return f"floor {floor}" if floor else "no floor named"


def _count(pieces: int) -> str:
    return f"{pieces} piece{'s' if pieces != 1 else ''}"
