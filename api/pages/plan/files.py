"""What of a plan can be taken away: workbook, JSON, drawing and the papers for the bench."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from api.plans.render import JSON, PDF, SVG, XLSX
from nesting.domain.plan import Plan
from nesting.reports.papers import Paper, papers_of
from nesting.reports.whereabouts import spots


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
    papers = papers_of(plan)
    offered = (
        (FileKind.WORKBOOK, "Workbook", "order, cut list, all the lists behind it", "xlsx"),
        (FileKind.PURCHASE_SUMMARY, "Purchase summary", "what to buy and why", "pdf"),
        (FileKind.PICK_LIST, "Pick list", "offcuts to fetch from the rack", "pdf"),
        (FileKind.CUT_SHEETS, "Cut sheets", "bar by bar, for the saw", "pdf"),
        (FileKind.PIECE_LABELS, "Piece labels", "one for each piece", "pdf"),
        (FileKind.OFFCUT_LABELS, "Offcut labels", "tails that are kept", "pdf"),
        (FileKind.SMALL_PARTS, "Small parts", "caps, clips, strip", "pdf"),
        (FileKind.PACK_LISTS, "Pack lists", "one for each unit", "pdf"),
        (FileKind.DRAWING, "Drawing", "every bar to scale", "svg"),
        (FileKind.JSON, "JSON", "for other programs, and for an audit", "json"),
    )

    def has(kind: FileKind) -> bool:
        if kind is FileKind.DRAWING:
            return bool(spots(plan))
        return kind.media_type != PDF or kind.paper in papers

    return tuple(FileLink(*one) for one in offered if has(one[0]))
