"""The title block above a list: job, place, and the unit of all its lengths."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from nesting.sheets.cells import Cell, CellKind, Row, Sheet
from nesting.sheets.columns import RUNS, match_heading
from nesting.sheets.findings import Findings
from nesting.sheets.read_values import unit_of
from nesting.units import Unit

_UNIT_SAID = re.compile(
    r"\b(?:dimensions?|dims?|lengths?|sizes?|measurements?|units?)\b[^.;]*?(?:\bin\b|[:=(])\s*"
    r"(?P<unit>mm|millimet\w+|cm|centimet\w+|metres?|meters?|inches|inch|in|feet)\b\)?\.?$",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Title:
    """What the title block says: values by field with their cells, and the unit of all lengths."""

    values: dict[str, Cell] = field(default_factory=dict)
    unit: Unit | None = None


def read_title(sheet: Sheet, header: Row, findings: Findings) -> Title:
    """Read the rows above a header: who and where it is for, and the unit of all lengths."""
    values: dict[str, Cell] = {}
    unit: Unit | None = None
    for row in sheet.rows:
        if row.number >= header.number:
            break
        cells = [cell for _, cell in sorted(row.cells.items())]
        for here, after in zip(cells, [*cells[1:], None], strict=True):
            if match := _UNIT_SAID.search(here.text):
                unit = unit_of(match["unit"]) or unit
                continue
            label, sign, rest = here.text.partition(":")
            found = match_heading(RUNS, label)
            if found is None or found[0].field not in (
                "job",
                "building",
                "floor",
                "unit",
                "room",
                "length_unit",
            ):
                continue
            value = (
                Cell(row=here.row, column=here.column, kind=CellKind.TEXT, raw=rest.strip())
                if rest
                else after
            )
            if not sign and value is None:
                continue
            if value is not None and value.filled:
                as_unit = unit_of(value.text)
                if found[0].field == "length_unit" or (found[0].field == "unit" and as_unit):
                    unit = as_unit or unit
                else:
                    values.setdefault(found[0].field, value)
    for name, cell in values.items():
        findings.note(
            "from-title-block", sheet.where(cell), cell.text, f"Taken as the {name} of lines that name none."
        )
    return Title(values=values, unit=unit)
