"""What of a plan can be taken away: workbook, JSON, drawing and the papers for the bench."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from api.plans.render import JSON, PDF, SVG, XLSX, Paper
from nesting.domain.plan import Plan
from nesting.reports.small_part_words import small_parts_line
from nesting.reports.whereabouts import bars_to_cut, born_offcuts, fresh_offcuts, spots, used_offcuts


class FileKind(StrEnum):
    """A file of a plan, by the name in its address."""

    WORKBOOK = "workbook"
    JSON = "json"
    DRAWING = "drawing"
    PURCHASE_SUMMARY = "purchase-summary"
    PICK_LIST = "pick-list"
    CUT_SHEETS = "cut-sheets"
    PIECE_LABELS = "piece-labels"
    OFFCUT_LABELS = "offcut-labels"
    SMALL_PARTS = "small-parts"
    PACK_LISTS = "pack-lists"

    @property
    def media_type(self) -> str:
        """Give the type it comes in."""
        plain = {FileKind.WORKBOOK: XLSX, FileKind.JSON: JSON, FileKind.DRAWING: SVG}
        return plain.get(self, PDF)

    @property
    def paper(self) -> Paper:
        """Give the paper a PDF is of; cut sheets for what is no paper."""
        return Paper(self.value) if self.media_type == PDF else Paper.CUT_SHEETS


@dataclass(frozen=True, slots=True)
class FileLink:
    """A file that has something to say: its kind, what it is called, what it is for, its type."""

    kind: FileKind
    name: str
    purpose: str
    ending: str


def file_links(plan: Plan) -> tuple[FileLink, ...]:
    """Give the files of a plan in the order of their use; papers with nothing to say are left out."""
    placed = bool(spots(plan))
    to_cut = any(bars_to_cut(group) for group in plan.groups)
    kept = bool(born_offcuts(plan) or fresh_offcuts(plan))
    small = plan.small_parts is not None and bool(small_parts_line(plan.small_parts) or plan.reels)
    offered = (
        (FileKind.WORKBOOK, "Workbook", "order, cut list, all the lists behind it", "xlsx", True),
        (FileKind.PURCHASE_SUMMARY, "Purchase summary", "what to buy and why", "pdf", bool(plan.groups)),
        (FileKind.PICK_LIST, "Pick list", "offcuts to fetch from the rack", "pdf", bool(used_offcuts(plan))),
        (FileKind.CUT_SHEETS, "Cut sheets", "bar by bar, for the saw", "pdf", to_cut),
        (FileKind.PIECE_LABELS, "Piece labels", "one for each piece", "pdf", to_cut),
        (FileKind.OFFCUT_LABELS, "Offcut labels", "tails that are kept", "pdf", kept),
        (FileKind.SMALL_PARTS, "Small parts", "caps, clips, strip", "pdf", small),
        (FileKind.PACK_LISTS, "Pack lists", "one for each unit", "pdf", placed),
        (FileKind.DRAWING, "Drawing", "every bar to scale", "svg", placed),
        (FileKind.JSON, "JSON", "for other programs, and for an audit", "json", True),
    )
    return tuple(FileLink(kind, name, purpose, ending) for kind, name, purpose, ending, has in offered if has)
