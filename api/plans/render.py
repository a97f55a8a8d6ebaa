"""A plan's document as a workbook or a picture."""

from __future__ import annotations

from pathlib import Path

from api.plans.svg import draw_plan
from nesting.exchange import read_plan

XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
SVG = "image/svg+xml"
JSON = "application/json"
CSV = "text/csv"

RESULT_TYPES = (JSON, XLSX, SVG)


def render(document: str, media_type: str, folder: Path) -> bytes:
    """
    Give the plan in one of the types it is offered in.

    Parameters
    ----------
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
    if media_type == SVG:
        return draw_plan(plan).encode()
    raise ValueError(media_type)
