"""A plan's document as a workbook or a picture."""

from __future__ import annotations

from pathlib import Path

from api.plans.svg import draw_plan
from nesting.exchange import read_plan
from nesting.reports.lengths import BothUnits
from nesting.reports.papers import Paper
from nesting.units import Unit

XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
SVG = "image/svg+xml"
PDF = "application/pdf"
JSON = "application/json"
CSV = "text/csv"

RESULT_TYPES = (JSON, XLSX, PDF, SVG)


def render(
    document: str,
    media_type: str,
    folder: Path,
    *,
    paper: Paper = Paper.CUT_SHEETS,
    unit: Unit | None = None,
) -> bytes:
    """
    Give the plan in one of the types it is offered in; empty when that paper has nothing to say.

    Parameters
    ----------
    paper, unit
        Which document to print, and the unit that leads in it; None for the plan's own.
    folder
        Where files may be put while at work.

    Raises
    ------
    ValueError
        When it is not offered in that type.
    """
    plan = read_plan(document)
    if media_type == XLSX:
        from nesting.sheets.write_plan import write_plan

        path = folder / "plan.xlsx"
        write_plan(plan, path)
        return path.read_bytes()
    if media_type == PDF:
        from nesting.paper import write_paper

        written = write_paper(plan, folder, unit=unit, only=(paper,))
        return written[0].read_bytes() if written else b""
    if media_type == SVG:
        return draw_plan(plan, unit or BothUnits.of(plan).unit).encode()
    raise ValueError(media_type)
