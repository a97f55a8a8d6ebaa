"""All the paper of one plan into one folder."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from nesting.domain.plan import Plan
from nesting.paper.cut_sheets import write_cut_sheets
from nesting.paper.label_grid import LabelGrid
from nesting.paper.offcut_labels import write_offcut_labels
from nesting.paper.pack_lists import write_pack_lists
from nesting.paper.page_size import PageSize
from nesting.paper.pick_list import write_pick_list
from nesting.paper.piece_labels import write_piece_labels
from nesting.paper.purchase_summary import write_purchase_summary
from nesting.paper.small_parts import has_small_parts, write_small_parts
from nesting.reports.lengths import BothUnits
from nesting.reports.whereabouts import bars_to_cut, born_offcuts, fresh_offcuts, spots, used_offcuts
from nesting.units import Unit


def write_paper(
    plan: Plan,
    folder: Path,
    *,
    unit: Unit | None = None,
    page: PageSize = PageSize.A4,
    labels: LabelGrid | None = None,
) -> tuple[Path, ...]:
    """
    Write the paper that goes with a plan: what to buy, fetch, cut, label and pack.

    A document is written only when it has something to say; one of the same name that an earlier plan
    left in the folder is removed, so that no old pick list lies beside new cut sheets. The same plan
    gives the same bytes.

    Parameters
    ----------
    folder
        Made when it does not exist.
    unit
        Unit of the shop's tape, the plan's own when None; every length is printed in the other system too.
    labels
        Sheet of labels; as many of 70 x 37 mm as the page holds when None.

    Returns
    -------
    The files written, in the order in which they are used.

    Raises
    ------
    ProblemError
        When the labels do not lie on the page.
    """
    lengths, page = BothUnits(unit) if unit else BothUnits.of(plan), PageSize(page)
    grid = labels or LabelGrid.filling(page)
    grid.check(page)
    placed = spots(plan)
    to_cut = any(bars_to_cut(group) for group in plan.groups)
    documents: tuple[tuple[str, bool, Callable[[Path], int]], ...] = (
        (
            "purchase-summary.pdf",
            bool(plan.groups or plan.order or plan.unplaced),
            lambda path: write_purchase_summary(path, plan, lengths, page),
        ),
        ("pick-list.pdf", bool(used_offcuts(plan)), lambda path: write_pick_list(path, plan, lengths, page)),
        ("cut-sheets.pdf", to_cut, lambda path: write_cut_sheets(path, plan, lengths, page)),
        (
            "piece-labels.pdf",
            to_cut,
            lambda path: write_piece_labels(path, plan, lengths, page, grid),
        ),
        (
            "offcut-labels.pdf",
            bool(born_offcuts(plan) or fresh_offcuts(plan)),
            lambda path: write_offcut_labels(path, plan, lengths, page, grid),
        ),
        (
            "small-parts.pdf",
            has_small_parts(plan),
            lambda path: write_small_parts(path, plan, lengths, page),
        ),
        ("pack-lists.pdf", bool(placed), lambda path: write_pack_lists(path, plan, lengths, page)),
    )
    folder.mkdir(parents=True, exist_ok=True)
    written = []
    for name, needed, write in documents:
        path = folder / name
        if needed:
            write(path)
            written.append(path)
        else:
            path.unlink(missing_ok=True)
    return tuple(written)
