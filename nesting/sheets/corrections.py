"""Cells that somebody has corrected after seeing how a list was read; the file itself stays as it came."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from nesting.errors import Where
from nesting.sheets.cells import Row, Sheet, cell_position, text_cell


@dataclass(frozen=True, slots=True)
class Correction:
    """What a cell is to be read as; an empty text empties it."""

    where: Where
    text: str


def corrected(sheets: Sequence[Sheet], corrections: Sequence[Correction]) -> tuple[Sheet, ...]:
    """Give the sheets as if the corrections had been typed into them, the last one of a cell winning."""
    return tuple(
        _corrected(sheet, [c for c in corrections if c.where.source == sheet.name]) for sheet in sheets
    )


def _corrected(sheet: Sheet, corrections: Sequence[Correction]) -> Sheet:
    if not corrections:
        return sheet
    rows = {row.number: row for row in sheet.rows}
    for correction in corrections:
        position = cell_position(correction.where.at)
        if position is None:
            continue
        number, column = position
        row = rows.get(number) or Row(number=number, cells={})
        cell = text_cell(number, column, correction.text)
        others = {at: kept for at, kept in row.cells.items() if at != column}
        rows[number] = replace(row, cells=others | ({column: cell} if cell.filled else {}))
    return replace(sheet, rows=tuple(row for _, row in sorted(rows.items()) if row.cells))
