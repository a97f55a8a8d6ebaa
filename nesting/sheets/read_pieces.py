"""Piece lines: lengths somebody has already taken off, straight to the saw."""

from __future__ import annotations

from nesting.domain.material import Part
from nesting.domain.runs import PieceLine
from nesting.sheets.read_lines import LineReader
from nesting.sheets.read_values import choice_of

PARTS = {
    **dict.fromkeys(("channel", "profile", "extrusion", "body", "base"), Part.CHANNEL),
    **dict.fromkeys(("cover", "diffuser", "lens", "lid"), Part.COVER),
}


def read_pieces(reader: LineReader) -> list[PieceLine]:
    """Give the piece lines of one list; lines that cannot be read leave findings instead."""
    pieces = []
    for line, common in reader.lines():
        cell = line.cell("part")
        part: Part | None = Part.CHANNEL
        if cell.filled:
            part = choice_of(cell, PARTS, "part", reader.table.sheet.where(cell), reader.findings)
        else:
            reader.default("part", "channel", line)
        reader.finish(line, common)
        if common is not None and part is not None:
            pieces.append(
                PieceLine(
                    job=common.job,
                    id=common.id,
                    family=common.family,
                    finish=common.finish,
                    part=part,
                    quantity=common.quantity,
                    length=common.reading.length,
                    lot=common.lot,
                    place=common.place,
                    status=common.status,
                    priority=common.priority,
                    due=common.due,
                    note=common.note,
                    where=common.where,
                    extra=common.extra,
                )
            )
    return pieces
