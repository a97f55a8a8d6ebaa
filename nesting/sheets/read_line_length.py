"""The lengths of a list's lines, each by the unit that holds for it, and columns that mix units."""

from __future__ import annotations

import re
from dataclasses import replace

from nesting.errors import Severity, Where
from nesting.sheets.cells import Cell, CellKind
from nesting.sheets.findings import Findings, listed
from nesting.sheets.gathered import Gathered
from nesting.sheets.read_fill import Line
from nesting.sheets.read_header import Table
from nesting.sheets.read_values import length_of, unit_of
from nesting.units import Reading, Unit

_FRACTION = re.compile(r"[0-9] ?[/⁄∕]|[¼½¾⅛⅜⅝⅞]")


class LineLengths:
    """
    Reads the lengths of one list.

    Parameters
    ----------
    default_unit
        Unit of bare lengths that neither cell, column nor title block gives one.

    Attributes
    ----------
    table
        The list; a row of units below its header may have named its unit on the way.
    """

    def __init__(
        self, table: Table, findings: Findings, gathered: Gathered, default_unit: Unit | None
    ) -> None:
        self.table = table
        self._findings, self._gathered, self._default_unit = findings, gathered, default_unit
        self._systems: dict[bool, list[Cell]] = {True: [], False: []}
        self._bare: list[Cell] = []

    def unit(self, name: str, line: Line) -> Unit | None:
        """Give the unit of a line's bare lengths in a column."""
        return self._row_unit(line) or self.table.unit(name) or self._default_unit

    def _row_unit(self, line: Line) -> Unit | None:
        cell = line.cell("length_unit")
        if not cell.filled:
            return None
        unit = unit_of(cell.text)
        if unit is None:
            self._findings.error(
                "unit-not-understood",
                self.table.sheet.where(cell),
                cell.raw,
                "Accepted as unit of length: mm, cm, m, in, ft.",
            )
        return unit

    def read(self, line: Line, cell: Cell, where: Where) -> Reading | None:
        """Read the cell that holds a line's length; None with a finding where it is not clear."""
        name = self.table.length_field
        unit = self.unit(name, line)
        if self.table.in_feet_and_inches(name) and self._row_unit(line) is None:
            unit, cell = None, replace(cell, raw=_with_feet(cell.raw))
        if unit is None and cell.kind in (CellKind.NUMBER, CellKind.TEXT):
            trial = Findings()
            reading = length_of(cell, None, where, trial)
            if any(finding.code == "no-unit" for finding in trial.all):
                # A fraction is one of an inch; nobody types 3/8 mm.
                unit_said = "in" if _FRACTION.search(cell.text) else "mm"
                message = (
                    "The column is of feet and inches, and a bare number could be either; "
                    "write it as 3' 4 1/2\" or 40 1/2 in."
                    if self.table.in_feet_and_inches(name)
                    else "No unit is given in the cells, the heading, the title block or the Saw sheet; "
                    f"write it into the heading, such as Length ({unit_said}), or give --unit {unit_said}."
                )
                self._gathered.add(Severity.ASK, "no-unit", message, cell)
                return None
        reading = length_of(cell, unit, where, self._findings)
        if reading is not None and self._row_unit(line) is None:
            self._systems[reading.unit.metric].append(cell)
            if self.table.unit(name) is None and length_of(cell, None, where, Findings()) is None:
                self._bare.append(cell)
        return reading

    def tell_mixed(self) -> None:
        """
        Warn of a column that mixes metric and inch lengths, each with its unit or the heading's.

        Where bare numbers stand among them that neither a heading nor the title block gives a unit,
        one of them is likely misread, and a person is asked.
        """
        metric, inch = self._systems[True], self._systems[False]
        if not metric or not inch:
            return
        unit = self.table.unit(self.table.length_field) or self._default_unit
        odd = (inch if unit.metric else metric) if unit else min(metric, inch, key=len)
        where, cells = self.table.sheet.where(odd[0]), f"Cells: {listed([cell.at for cell in odd])}."
        if self._bare:
            self._findings.ask(
                "mixed-units",
                where,
                odd[0].raw,
                "The column mixes metric lengths, inches and bare numbers; give every cell its unit, or add "
                f"a Length unit column. {cells}",
            )
        else:
            self._findings.warning(
                "mixed-units",
                where,
                odd[0].raw,
                f"The column mixes metric lengths and inches; each is read by its own unit. {cells}",
            )


def _with_feet(text: str) -> str:
    """Spell ``4-6`` and ``4-6 1/2`` of a column of feet and inches with their signs."""
    match = re.fullmatch(r"([0-9]{1,3})\s*-\s*([0-9]{1,2}(?:[ -][0-9]+/[0-9]+)?)", text.strip())
    return f"{match[1]}' {match[2]}\"" if match else text
