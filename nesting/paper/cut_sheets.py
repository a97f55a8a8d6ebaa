"""Cut sheets: a page to read first, then every material's bars in saw order."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from nesting.domain.material import CoverMode
from nesting.domain.plan import GroupPlan, Plan, PlannedBar
from nesting.domain.rules import SawRules
from nesting.paper.bar_drawing import draw_pattern
from nesting.paper.book import Book
from nesting.paper.cut_block import cut_blocks
from nesting.paper.faces import Face
from nesting.paper.flow import (
    Block,
    Section,
    Space,
    Stack,
    content_height,
    content_width,
    paragraph,
    print_pages,
)
from nesting.paper.hatching import Box
from nesting.paper.page_size import PageSize
from nesting.paper.saw_order import gangs_to_cut
from nesting.paper.saw_table import saw_table
from nesting.paper.surface import Align, Surface
from nesting.paper.tables import Column, Title, rows_of
from nesting.reports.answer import bars_words, loud_words
from nesting.reports.bar_picture import SegmentKind
from nesting.reports.cautions import plan_cautions, standing_cautions
from nesting.reports.lengths import BothUnits
from nesting.reports.tables import part_words
from nesting.reports.whereabouts import bars_to_cut, cut_already_words, numbers_words

FIRST_OFF = (
    "First-off: measure the first piece after every change of stop and write it in its box. "
    "Measured tail and expected tail differ: stop, find out which piece is wrong."
)

_LEGEND = (
    (SegmentKind.PIECE, "piece, with the number of its cut"),
    (SegmentKind.KERF, "saw cut or trimmed end"),
    (SegmentKind.OFFCUT, "tail to keep"),
    (SegmentKind.SCRAP, "scrap"),
)


@dataclass(frozen=True, slots=True)
class Legend:
    """The patterns of the pictures and what they mean."""

    height: float = 12.0

    def draw(self, surface: Surface, box: Box) -> None:
        """Print swatch and word for each pattern in one row."""
        width = box.width / len(_LEGEND)
        for number, (kind, words) in enumerate(_LEGEND):
            swatch = Box(box.x + number * width, box.y + 2, 12, 7)
            draw_pattern(surface, swatch, kind)
            surface.frame(swatch, stroke=0.8)
            surface.text(Box(swatch.right + 2, swatch.y, width - 16, 7), words, size=9, lines=2)


@dataclass(frozen=True, slots=True)
class MaterialHead:
    """What is under the blade and how the saw is set, at the top of every page of a material."""

    group: GroupPlan
    lengths: BothUnits
    cover: CoverMode
    height: float = 19.0

    def draw(self, surface: Surface, box: Box) -> None:
        """Print material, what is cut, and the saw's allowances."""
        material = self.group.material
        name = Box(box.x, box.y, box.width * 0.62, 8.5)
        surface.text(name, material.name, size=19, face=Face.BOLD)
        lot = Box(name.right + 2, box.y, box.right - name.right - 2, 8.5)
        loud = Face.BOLD if material.lot else Face.PLAIN
        words = f"lot {material.lot}, no other" if material.lot else "any lot; never two in one room"
        surface.text(lot, words, size=11, face=loud, align=Align.RIGHT, lines=2)
        surface.text(Box(box.x, box.y + 8.5, box.width, 4.5), _part_words(self.group, self.cover), size=9.5)
        surface.text(
            Box(box.x, box.y + 12.8, box.width, 4.2), _saw_words(self.group.saw, self.lengths), size=8.5
        )


def write_cut_sheets(path: Path, plan: Plan, lengths: BothUnits, page: PageSize) -> int:
    """
    Write every bar with its cuts, and a first page with saw, legend and cautions.

    Returns
    -------
    Number of pages.
    """
    width = content_width(page)
    sections = [Section((), _first_page(plan, lengths, width))]
    sections += [_section(plan, group, lengths, page) for group in plan.groups if bars_to_cut(group)]
    return print_pages(
        path,
        page,
        sections,
        name="Cut sheets",
        plan_id=plan.id,
        title=plan.request.title,
        note=FIRST_OFF,
    )


def _section(plan: Plan, group: GroupPlan, lengths: BothUnits, page: PageSize) -> Section:
    book = Book.of(plan, lengths)
    family = plan.request.family(group.material.family)
    head = MaterialHead(group, lengths, family.cover_mode if family else CoverMode.NONE)
    room = content_height(page) - head.height
    alike = gangs_to_cut(plan, group, book.unverified)
    return Section((head,), tuple(block for gang in alike for block in cut_blocks(gang, book, room)))


def _first_page(plan: Plan, lengths: BothUnits, width: float) -> tuple[Block, ...]:
    blocks: list[Block] = [*paragraph("Read before cutting", width, size=20, face=Face.BOLD)]
    for loud in filter(None, (*loud_words(plan), *plan_cautions(plan), cut_already_words(plan))):
        blocks += paragraph(loud, width, size=11, face=Face.BOLD, loud=True)
    blocks.append(Space(2))
    for said in standing_cautions(plan):
        blocks += paragraph(said, width, size=10)
    blocks.append(Stack((Title("How to read the pictures"), Legend())))
    blocks += rows_of(
        Title("What to lay out"),
        (
            Column("material", 0.5, face=Face.BOLD),
            Column("bars", 0.17),
            Column("new", 0.16),
            Column("offcuts", 0.17),
        ),
        tuple(_laid_out(group, bars) for group in plan.groups if (bars := bars_to_cut(group))),
    )
    return (*blocks, *saw_table(plan, lengths))


def _laid_out(group: GroupPlan, bars: tuple[PlannedBar, ...]) -> tuple[str, ...]:
    numbers = sorted(bar.number for bar in bars)
    rack = sum(1 for bar in bars if bar.offcut)
    whole = numbers == list(range(numbers[0], numbers[-1] + 1)) and len(numbers) > 1
    span = f"{numbers[0]} to {numbers[-1]}" if whole else numbers_words(tuple(numbers))
    return (
        str(group.material),
        span,
        bars_words(len(numbers) - rack) if len(numbers) > rack else "",
        str(rack or ""),
    )


def _part_words(group: GroupPlan, cover: CoverMode) -> str:
    if not group.cover_follows:
        return f"{part_words(group)} only"
    if cover is CoverMode.OFFSET:
        return f"{part_words(group)}, set back by the caps' noses: check the cover's length on every piece"
    return part_words(group)


def _saw_words(saw: SawRules, lengths: BothUnits) -> str:
    return (
        f"Saw: kerf {lengths.both(saw.kerf)},  head trim {lengths.both(saw.head_trim)},  "
        f"tail loss {lengths.both(saw.tail_loss)},  keep tails from {lengths.both(saw.keep_length)},  "
        f"hold at least {lengths.both(saw.grip)}"
    )
