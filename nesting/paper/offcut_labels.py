"""A label for every tail that goes back to the rack."""

from __future__ import annotations

from pathlib import Path

from nesting.domain.material import Part
from nesting.domain.plan import GroupPlan, Plan, PlannedBar
from nesting.paper.codes import code_text
from nesting.paper.faces import Face
from nesting.paper.label import Label, LabelLine, print_labels
from nesting.paper.label_grid import LabelGrid
from nesting.paper.lots import lot_words
from nesting.paper.page_size import PageSize
from nesting.reports.lengths import BothUnits
from nesting.reports.whereabouts import born_offcuts


def offcut_labels(plan: Plan, lengths: BothUnits) -> tuple[Label, ...]:
    """Give one label per offcut that is born; its length is calculated, the measured one is written in."""
    return tuple(_label(plan, group, bar, lengths) for group, bar in born_offcuts(plan))


def write_offcut_labels(path: Path, plan: Plan, lengths: BothUnits, page: PageSize, grid: LabelGrid) -> int:
    """Write the offcuts' labels; gives the number of pages."""
    return print_labels(path, page, grid, offcut_labels(plan, lengths), f"Offcut labels, plan {plan.id}")


def _label(plan: Plan, group: GroupPlan, bar: PlannedBar, lengths: BothUnits) -> Label:
    material = group.material
    what = " ".join(p for p in (material.family, material.finish) if p)
    part = "COVER " if material.part is Part.COVER else "with COVER, " if group.cover_follows else ""
    # Our own stroke made one end; the other is the bar's far end as it came.
    ends = "one end clean, one raw" if bar.tail_loss else "both ends clean"
    return Label(
        beside=(
            LabelLine("OFFCUT", 3.4, 9, Face.BOLD),
            LabelLine(bar.tail_tag, 6.6, 17, Face.CODE, 2),
            LabelLine(f"about {lengths.first(bar.tail)}", 5.0, 13, Face.BOLD),
            LabelLine(f"about {lengths.second(bar.tail).removeprefix('~')}", 3.2, 8.5),
            LabelLine("measured ____________", 5.2, 11),
        ),
        below=(
            LabelLine(f"{part}{what}, {lot_words(plan, bar, material)}", 3.5, 9, Face.BOLD),
            LabelLine(f"{ends} · rack ________", 3.2, 8),
            LabelLine(f"born: plan {plan.id} · bar {bar.number}", 3.0, 7),
        ),
        code=code_text(bar.tail_tag, plan.id),
    )
