"""
The demo building: Orrelbeck Yard, 48 flats on six floors, and a rush job. All names are invented.

``runs.csv`` has the building's 338 rows (350 runs), ``rush.csv`` a second job in inches that shares
one material; the other files are the catalogue, the prices, ten offcuts and the saw.
"""

from __future__ import annotations

import csv
from importlib.resources import files

Row = dict[str, str]


def rows(name: str) -> list[Row]:
    """
    Give one table of the demo.

    Parameters
    ----------
    name
        ``runs``, ``rush``, ``families``, ``stock``, ``offcuts`` or ``saw``.

    Returns
    -------
    One mapping of heading to text per row.
    """
    text = files(__name__).joinpath(f"{name}.csv").read_text(encoding="utf-8")
    return list(csv.DictReader(text.splitlines()))


def tables() -> dict[str, list[Row]]:
    """Give the demo's input workbook: sheet name to rows."""
    return {
        "Runs": [*_with_unit(rows("runs"), "mm"), *_with_unit(rows("rush"), "in")],
        "Families": rows("families"),
        "Stock": rows("stock"),
        "Offcuts": rows("offcuts"),
        "Saw": rows("saw"),
    }


def _with_unit(run_rows: list[Row], unit: str) -> list[Row]:
    """Move the unit from the heading into a column, since the two lists share one sheet."""
    heading = f"Length ({unit})"
    return [
        {("Length" if name == heading else name): text for name, text in row.items()} | {"Length unit": unit}
        for row in run_rows
    ]
