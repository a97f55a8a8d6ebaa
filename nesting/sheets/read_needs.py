"""Which bars a list needs, and in which cells its lines say so."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from nesting.domain.material import CoverMode, Part
from nesting.domain.request import Request
from nesting.domain.stock import StockLine
from nesting.errors import Where
from nesting.sheets.findings import listed

Places = dict[tuple[Where, str], Where]  # cells of a line's id, family, finish or price, by the line's place
MaterialKey = tuple[str, str, Part]  # family, finish and part of a material, whatever its lot


def materials_needed(request: Request, places: Places) -> dict[MaterialKey, list[Where]]:
    """Give the materials bars are needed of, with the cells of the lines that need them, in their order."""
    needed: dict[MaterialKey, list[Where]] = {}
    for run in request.runs:
        family = request.family(run.family)
        parts = [Part.CHANNEL]
        if family is not None and family.cover_mode is CoverMode.SEPARATE:
            parts.append(Part.COVER)
        for part in parts:
            at = cell_of(places, run.where, "finish", "family")
            needed.setdefault((run.family, run.finish, part), []).append(at)
    for line in request.piece_lines:
        at = cell_of(places, line.where, "finish", "family")
        needed.setdefault((line.family, line.finish, line.part), []).append(at)
    return needed


def cell_of(places: Places, where: Where, *fields: str) -> Where:
    """Give the first of some fields' cells that a line has filled, else the line's own place."""
    return next((places[where, field] for field in fields if (where, field) in places), where)


def stock_by_material(stock: Iterable[StockLine]) -> dict[MaterialKey, list[StockLine]]:
    """Give the stock lines of each material, in the order of the list."""
    bars: dict[MaterialKey, list[StockLine]] = {}
    for bar in stock:
        bars.setdefault((bar.family, bar.finish, bar.part), []).append(bar)
    return bars


def rows_text(met: Sequence[Where]) -> str:
    """Give the places of some lines as a person would look them up, the first of many named."""
    return listed([str(place) for place in met])
