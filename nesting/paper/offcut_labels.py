"""A label for every tail that goes back to the rack."""

from __future__ import annotations

from pathlib import Path

from nesting.domain.material import Part
from nesting.domain.plan import GroupPlan, Plan, PlannedBar
from nesting.domain.stock import EndState, Offcut
from nesting.paper.codes import code_text
from nesting.paper.faces import Face
from nesting.paper.label import Label, LabelLine, print_labels
from nesting.paper.label_grid import LabelGrid
from nesting.paper.lots import lot_words
from nesting.paper.page_size import PageSize
from nesting.reports.lengths import BothUnits
from nesting.reports.whereabouts import born_offcuts, fresh_offcuts
from nesting.units import Length


def offcut_labels(plan: Plan, lengths: BothUnits) -> tuple[Label, ...]:
    """
    Give a label for every offcut that came about at the saw, then one for every tail that will be kept.

    A tail's length is calculated, the measured one is written in.
    """
    fresh = (
        _label(plan, group, bar, lengths, tag=offcut.tag, length=offcut.length, offcut=offcut)
        for group, bar, offcut in fresh_offcuts(plan)
    )
    tails = (
        _label(plan, group, bar, lengths, tag=bar.tail_tag, length=bar.tail)
        for group, bar in born_offcuts(plan)
    )
    return (*fresh, *tails)


def write_offcut_labels(path: Path, plan: Plan, lengths: BothUnits, page: PageSize, grid: LabelGrid) -> int:
    """Write the offcuts' labels; gives the number of pages."""
    return print_labels(path, page, grid, offcut_labels(plan, lengths), f"Offcut labels, plan {plan.id}")


def _label(
    plan: Plan,
    group: GroupPlan,
    bar: PlannedBar,
    lengths: BothUnits,
    *,
    tag: str,
    length: Length,
    offcut: Offcut | None = None,
) -> Label:
    material = group.material
    what = " ".join(p for p in (material.family, material.finish) if p)
    part = "COVER " if material.part is Part.COVER else "with COVER, " if group.cover_follows else ""
    # Our own stroke made one end; the other is the bar's far end as it came.
    raw = (offcut.left, offcut.right).count(EndState.RAW) if offcut is not None else int(bar.tail_loss > 0)
    ends = ("both ends clean", "one end clean, one raw", "both ends raw")[raw]
    about = "" if offcut is not None else "about "
    return Label(
        beside=(
            LabelLine("OFFCUT", 3.4, 9, Face.BOLD),
            LabelLine(tag, 6.6, 17, Face.CODE, 2),
            LabelLine(f"{about}{lengths.first(length)}", 5.0, 13, Face.BOLD),
            LabelLine(f"about {lengths.second(length).removeprefix('~')}", 3.2, 8.5),
            LabelLine("measured ____________", 5.2, 11),
        ),
        below=(
            LabelLine(f"{part}{what}, {lot_words(plan, bar, material)}", 3.5, 9, Face.BOLD),
            LabelLine(f"{ends} · rack ________", 3.2, 8),
            LabelLine(f"born: plan {plan.id} · bar {bar.number}", 3.0, 7),
        ),
        code=code_text(tag, plan.id),
    )
