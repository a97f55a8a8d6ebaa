"""Which of the papers that go with a plan have something to say."""

from __future__ import annotations

from enum import StrEnum

from nesting.domain.plan import Plan
from nesting.reports.small_part_words import has_small_parts
from nesting.reports.whereabouts import bars_to_cut, born_offcuts, fresh_offcuts, spots, used_offcuts


class Paper(StrEnum):
    """The documents that go with a plan, in the order in which they are used; the names of their files."""

    PURCHASE_SUMMARY = "purchase-summary"
    PICK_LIST = "pick-list"
    CUT_SHEETS = "cut-sheets"
    PIECE_LABELS = "piece-labels"
    OFFCUT_LABELS = "offcut-labels"
    SMALL_PARTS = "small-parts"
    PACK_LISTS = "pack-lists"


def papers_of(plan: Plan) -> tuple[Paper, ...]:
    """Give the papers that are worth printing, in the order of their use."""
    to_cut = any(bars_to_cut(group) for group in plan.groups)
    needed = {
        Paper.PURCHASE_SUMMARY: bool(plan.groups or plan.order or plan.unplaced),
        Paper.PICK_LIST: bool(used_offcuts(plan)),
        Paper.CUT_SHEETS: to_cut,
        Paper.PIECE_LABELS: to_cut,
        Paper.OFFCUT_LABELS: bool(born_offcuts(plan) or fresh_offcuts(plan)),
        Paper.SMALL_PARTS: has_small_parts(plan),
        Paper.PACK_LISTS: bool(spots(plan)),
    }
    return tuple(paper for paper in Paper if needed[paper])
