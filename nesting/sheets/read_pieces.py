"""Piece lines: lengths somebody has already taken off, straight to the saw."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

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


def told_apart(pieces: Sequence[PieceLine]) -> list[PieceLine]:
    """
    Put ``cover`` behind the id of a cover that shares it with its channel: ``P-1`` and ``P-1 cover``.

    Only a pair of one channel and one cover is touched: an id that occurs more often is more likely a
    row copied and not corrected, which has to be seen.
    """
    parts: dict[tuple[str, str], list[Part]] = {}
    for line in pieces:
        parts.setdefault((line.job, line.id), []).append(line.part)
    pairs = {key for key, met in parts.items() if sorted(met) == [Part.CHANNEL, Part.COVER]}
    return [
        replace(line, id=f"{line.id} cover")
        if line.part is Part.COVER and (line.job, line.id) in pairs
        else line
        for line in pieces
    ]
