"""All the paper of one plan into one folder."""

from __future__ import annotations

from collections.abc import Callable, Collection
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
from nesting.paper.small_parts import write_small_parts
from nesting.reports.lengths import BothUnits
from nesting.reports.papers import Paper, papers_of
from nesting.units import Unit


def write_paper(
    plan: Plan,
    folder: Path,
    *,
    unit: Unit | None = None,
    page: PageSize = PageSize.A4,
    labels: LabelGrid | None = None,
    only: Collection[Paper] = tuple(Paper),
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
    only
        The papers that are asked for.

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
    writers: dict[Paper, Callable[[Path], int]] = {
        Paper.PURCHASE_SUMMARY: lambda path: write_purchase_summary(path, plan, lengths, page),
        Paper.PICK_LIST: lambda path: write_pick_list(path, plan, lengths, page),
        Paper.CUT_SHEETS: lambda path: write_cut_sheets(path, plan, lengths, page),
        Paper.PIECE_LABELS: lambda path: write_piece_labels(path, plan, lengths, page, grid),
        Paper.OFFCUT_LABELS: lambda path: write_offcut_labels(path, plan, lengths, page, grid),
        Paper.SMALL_PARTS: lambda path: write_small_parts(path, plan, lengths, page),
        Paper.PACK_LISTS: lambda path: write_pack_lists(path, plan, lengths, page),
    }
    worth = papers_of(plan)
    folder.mkdir(parents=True, exist_ok=True)
    written = []
    for paper, write in writers.items():
        if paper not in only:
            continue
        path = folder / f"{paper.value}.pdf"
        if paper in worth:
            write(path)
            written.append(path)
        else:
            path.unlink(missing_ok=True)
    return tuple(written)
