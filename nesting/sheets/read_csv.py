"""Read a CSV file as cells (RFC 4180, and the separators and encodings spreadsheets export)."""

from __future__ import annotations

import csv
import io
from pathlib import Path

from nesting.errors import Where
from nesting.sheets.cells import Row, Sheet, text_cell
from nesting.sheets.findings import Findings
from nesting.sheets.limits import LIMITS, Limits, check_file

_SEPARATORS = (",", ";", "\t", "|")
_TRIED_ROWS = 50


def read_csv(path: Path, findings: Findings, limits: Limits = LIMITS) -> tuple[Sheet, ...]:
    """Give the file as one sheet with the file's name; none, with a finding, when it cannot be read."""
    if not check_file(path, findings, limits):
        return ()
    where = Where(path.name)
    text = _decoded(path.read_bytes(), where, findings)
    if "\0" in text:
        findings.error(
            "not-a-text", where, path.name, "The file is no CSV text; save the list as .csv or .xlsx."
        )
        return ()
    rows = []
    try:
        for number, values in enumerate(
            csv.reader(io.StringIO(text, newline=""), delimiter=_separator(text)), 1
        ):
            if number > limits.rows or len(values) > limits.columns:
                findings.error(
                    "sheet-too-large",
                    where,
                    f"row {number} with {len(values)} columns",
                    f"At most {limits.rows} rows and {limits.columns} columns are read.",
                )
                return ()
            if any(len(value) > limits.text for value in values):
                findings.error(
                    "text-too-long",
                    Where(path.name, f"A{number}"),
                    next(value for value in values if len(value) > limits.text),
                    f"A cell may hold {limits.text} characters; look for a quotation mark never closed.",
                )
                return ()
            cells = [text_cell(number, column, value) for column, value in enumerate(values, 1)]
            filled = {cell.column: cell for cell in cells if cell.filled}
            if filled:
                rows.append(Row(number=number, cells=filled))
    except csv.Error as why:
        findings.error("damaged-file", where, str(why), "The file is no well-formed CSV; save it again.")
        return ()
    return (Sheet(name=path.name, rows=tuple(rows)),)


def _decoded(content: bytes, where: Where, findings: Findings) -> str:
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        return content.decode("utf-16", errors="replace")
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError:
        findings.note("encoding-guessed", where, "", "The file is no UTF-8; it was read as Windows-1252.")
        return content.decode("cp1252", errors="replace")


def _separator(text: str) -> str:
    """Give the separator that cuts the most rows into the same number of columns, at least two."""
    sample = text[:100_000]
    best, best_score = ",", (0, 0)
    for separator in _SEPARATORS:
        widths: dict[int, int] = {}
        for number, values in enumerate(csv.reader(io.StringIO(sample, newline=""), delimiter=separator)):
            if number >= _TRIED_ROWS:
                break
            widths[len(values)] = widths.get(len(values), 0) + 1
        score = max(((count, width) for width, count in widths.items() if width > 1), default=(0, 0))
        if score > best_score:
            best, best_score = separator, score
    return best
