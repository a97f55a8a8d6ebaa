"""The walk along the rack: offcuts to fetch, place by place."""

from __future__ import annotations

from pathlib import Path

from nesting.domain.plan import Plan
from nesting.domain.stock import Offcut
from nesting.paper.boxes import natural
from nesting.paper.faces import Face
from nesting.paper.flow import Line, Section, content_width, paragraph, print_pages
from nesting.paper.page_size import PageSize
from nesting.paper.tables import FIELD, TICK, Column, Heading, row_of
from nesting.reports.lengths import BothUnits
from nesting.reports.whereabouts import used_offcuts

_COLUMNS = (
    Column("got", 0.055),
    Column("rack place", 0.13, 15, Face.BOLD),
    Column("tag", 0.18, 13, Face.CODE),
    Column("material", 0.19, 9),
    Column("length", 0.15, 11, Face.BOLD),
    Column("ends", 0.1, 9),
    Column("measured", 0.125),
    Column("for bar", 0.07, 13, Face.BOLD),
)


def write_pick_list(path: Path, plan: Plan, lengths: BothUnits, page: PageSize) -> int:
    """Write the offcuts to fetch in the order of their places; gives the number of pages."""
    picked = sorted(
        used_offcuts(plan),
        key=lambda found: (natural(found[0].place), natural(found[0].tag), found[1].number),
    )
    rows = tuple(
        row_of(
            _COLUMNS,
            (
                TICK,
                offcut.place or "?",
                offcut.tag,
                _what(offcut),
                lengths.both(offcut.length),
                _ends(offcut),
                FIELD,
                str(bar.number),
            ),
            12.0,
        )
        for offcut, bar in picked
    )
    count = f"{len(rows)} offcut{'s' if len(rows) != 1 else ''} to fetch"
    intro = paragraph(
        "Measure each one. Shorter than listed, damaged or not found: do not cut it, "
        "report the tag and plan again.",
        content_width(page),
        size=10.5,
    )
    head = (Line(count, 17, Face.BOLD, below=1), *intro, Heading(_COLUMNS))
    return print_pages(
        path,
        page,
        (Section(head, rows, one_list=True),),
        name="Pick list",
        plan_id=plan.id,
        title=plan.request.title,
        note="Tick what you have in your hand, not what you believe is there.",
    )


def _what(offcut: Offcut) -> str:
    words = " ".join(p for p in (offcut.family, offcut.finish, offcut.part.value) if p)
    return f"{words}, lot {offcut.lot}" if offcut.lot else words


def _ends(offcut: Offcut) -> str:
    return f"{offcut.left.value} / {offcut.right.value}"
