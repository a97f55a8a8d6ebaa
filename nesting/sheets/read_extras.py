"""Columns of the sender's own that say what one of ours asks: they must not pass unnoticed."""

from __future__ import annotations

from nesting.sheets.cells import CellKind
from nesting.sheets.columns import Column, plain_words
from nesting.sheets.findings import Findings
from nesting.sheets.read_header import Table

# What decides how long a piece is cut and whether it is cut; other words, such as left, say too little.
_FIELDS = ("kind", "status")
_FEWEST = 2


def tell_unread(table: Table, findings: Findings) -> None:
    """
    Warn of a column that is not read, though all its words are those of one that the list lacks.

    A column ``Type`` of openings would be planned as finished lengths, each too long by its clearances.
    """
    lacking = [
        column
        for column in table.plan.columns
        if column.field in _FIELDS and column.field not in table.columns
    ]
    for number, heading in table.extras:
        said = _words(table, number, heading)
        meant = next((column for column in lacking if _all_of(column, said)), None)
        if meant is not None:
            words = ", ".join(sorted(set(said)))
            findings.warning(
                "column-not-read",
                table.sheet.where(table.header.cell(number)),
                heading,
                f"The column is kept as one of your own and not read, though its words ({words}) are "
                f"those of {meant.heading}. Name it {meant.heading} if it shall count.",
            )


def _words(table: Table, number: int, heading: str) -> list[str]:
    cells = (row.cell(number) for row in table.body if len(row.cells) > 1)
    words = [plain_words(cell.text) for cell in cells if cell.filled and cell.kind is CellKind.TEXT]
    return [word for word in words if word not in ("", plain_words(heading))]


def _all_of(column: Column, words: list[str]) -> bool:
    # "channel" alone names a part as well as a kind of length.
    return (
        len(words) >= _FEWEST
        and set(words) != {"channel"}
        and all(
            any(word == choice or word.startswith(f"{choice} ") for choice in column.choices)
            for word in words
        )
    )
