"""What runs and pieces have in common: identity, place, quantity, length, material, remarks."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace

from nesting.domain.runs import Place
from nesting.domain.status import Status
from nesting.errors import Severity, Where
from nesting.sheets.cells import Cell, CellKind
from nesting.sheets.columns import SheetKind
from nesting.sheets.findings import Findings
from nesting.sheets.gathered import Gathered
from nesting.sheets.read_fill import Line
from nesting.sheets.read_goals import due_of, priority_of
from nesting.sheets.read_header import Table
from nesting.sheets.read_line_length import LineLengths
from nesting.sheets.read_report import RowEcho, Verdict
from nesting.sheets.read_rows import Walk
from nesting.sheets.read_status import status_of
from nesting.sheets.read_values import count_and_length, quantity_of, text_of
from nesting.units import Reading, Unit

SHORT_ID = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Common:
    """The values every line has, and where they were found."""

    job: str
    id: str
    family: str
    finish: str
    quantity: int
    reading: Reading
    lot: str
    place: Place
    status: Status
    priority: int
    due: str
    note: str
    where: Where
    extra: tuple[tuple[str, str], ...]


class LineReader:
    """
    Reads the lines of one list; the defaults a list leaves to us are told once each.

    Parameters
    ----------
    default_unit
        Unit of bare lengths that neither cell, column nor title block gives one.
    job, floor
        Given to lines that name none; the job as (value, where it comes from).
    id_prefix
        Put before the row number of lines without an id; tells several lists of a workbook apart.

    Attributes
    ----------
    places
        Cells of a line's id, family and finish, by the line's place (its length cell) and the field.
    """

    def __init__(
        self,
        table: Table,
        findings: Findings,
        echo: list[RowEcho],
        *,
        default_unit: Unit | None,
        job: tuple[str, str],
        floor: str = "",
        id_prefix: str = "",
    ) -> None:
        self.table = table
        self.findings = findings
        self.gathered = Gathered(findings, table)
        self._job, self._floor, self._id_prefix = job, floor, id_prefix
        self._walk = Walk(table=table, findings=findings, echo=echo)
        self._echo = echo
        self.lengths = LineLengths(table, findings, self.gathered, default_unit)
        self.unread: list[tuple[str, str, Where]] = []
        self.places: dict[tuple[Where, str], Where] = {}
        self._line_defaults: list[str] = []
        self._before = 0

    def lines(self) -> Iterator[tuple[Line, Common | None]]:
        """Give each line with its common values, None where they could not be read."""
        for line in self._walk:
            # A row of units below the header may have named the unit.
            self.table = self.lengths.table = self._walk.table
            self._before = len(self.findings)
            self._line_defaults = [f"{name} from above" for name in line.borrowed]
            yield line, self._common(line)
        self.lengths.tell_mixed()
        self.gathered.tell()

    def default(self, what: str, value: str, line: Line, severity: Severity = Severity.NOTE) -> None:
        """Say that a line took a default."""
        self._line_defaults.append(f"{what}: {value}")
        # Where the list has no such column, the row's first cell stands for the row: nothing was found in it.
        at = self.table.columns.get(what, min(line.row.cells))
        cell = Cell(row=line.row.number, column=at)
        message = f"No {what.replace('_', ' ')} is given; {value} is taken."
        self.gathered.add(severity, f"default-{what.replace('_', '-')}", message, cell)

    def finish(self, line: Line, common: Common | None) -> None:
        """Echo a line once it is read as far as it goes, and count it when it stands."""
        told = self.findings.since(self._before)
        cell = self._length_cell(line)
        shown = cell if cell.filled else line.row.cells[min(line.row.cells)]
        refused = [finding for finding in told if finding.severity.refuses]
        if common is None or refused:
            verdict, reason = Verdict.ASK, "; ".join(f.message for f in refused) or "the length has no unit"
            self._walk.tally.incomplete = True
        elif any(finding.severity is Severity.WARNING for finding in told):
            verdict = Verdict.WARN
            reason = "; ".join(f.message for f in told if f.severity is Severity.WARNING)
        else:
            verdict, reason = Verdict.OK, ""
        self._echo.append(
            RowEcho(
                where=self.table.sheet.where(shown),
                raw=shown.raw,
                verdict=verdict,
                id=common.id if common else "",
                quantity=common.quantity if common else 0,
                length=common.reading.length if common else None,
                defaults=tuple(self._line_defaults),
                reason=reason,
            )
        )
        if common:
            self._walk.counted(common.quantity, common.reading.length)

    def _common(self, line: Line) -> Common | None:
        texts = {name: self._text(line, name) for name in ("family", "finish", "lot", "note", "id")}
        place = {name: self._text(line, name) for name in ("building", "floor", "unit", "room", "spot")}
        job = self._text(line, "job")
        if not job:
            job = self._job[0]
            self.default("job", f"{job!r}, {self._job[1]},", line)
        if not place["floor"] and self._floor:
            place["floor"] = self._floor
            self.default("floor", f"the sheet's name, {self._floor!r},", line)
        where_of = self.table.sheet.where
        status = status_of(cell := line.cell("status"), where_of(cell), self.findings)
        urgent = priority_of(cell := line.cell("priority"), where_of(cell), self.findings)
        due = due_of(cell := line.cell("due"), where_of(cell), self.findings)
        quantity, reading = self._quantity_and_length(line)
        if not texts["id"]:
            letter = "R" if self.table.plan.kind is SheetKind.RUNS else "P"
            texts["id"] = f"{self._id_prefix}{letter}{line.row.number}"
            self.default("id", "the row number", line)
        if quantity is None or reading is None:
            # Short ids may start afresh in every unit, which only whole lines can tell.
            if line.cell("id").filled and not (place["unit"] and len(texts["id"]) <= SHORT_ID):
                self.unread.append((job, texts["id"], where_of(line.cell("id"))))
            return None
        where = where_of(self._length_cell(line))
        for name in ("id", "family", "finish"):
            if line.cell(name).filled:
                self.places[where, name] = where_of(line.cell(name))
        return Common(
            job=job,
            id=texts["id"],
            family=texts["family"],
            finish=texts["finish"],
            quantity=quantity,
            reading=reading,
            lot=texts["lot"],
            place=Place(**place),
            status=status,
            priority=urgent,
            due=due,
            note=texts["note"],
            where=where,
            extra=self._extra(line),
        )

    def _text(self, line: Line, name: str) -> str:
        cell = line.cell(name)
        return text_of(cell, self.table.sheet.where(cell), self.findings)

    def _extra(self, line: Line) -> tuple[tuple[str, str], ...]:
        columns = [*self.table.extras]
        if line.cell("status").filled:
            columns.append((self.table.columns["status"], self.table.heading("status")))
        return tuple((heading, line.row.cell(number).text) for number, heading in sorted(columns))

    def _length_cell(self, line: Line) -> Cell:
        return line.cell(self.table.length_field)

    def _quantity_and_length(self, line: Line) -> tuple[int | None, Reading | None]:
        cell = self._length_cell(line)
        where = self.table.sheet.where(cell)
        if not cell.filled:
            self.findings.error(
                "length-missing",
                where,
                line.row.raw,
                "The line has no length; type it with its unit, or delete the line.",
            )
            return self._quantity(line, None), None
        if cell.struck and not line.row.struck:
            self.findings.ask(
                "struck-length",
                where,
                cell.raw,
                "The length is struck through but the line is not; type the one that counts.",
            )
        split = count_and_length(cell.text) if cell.kind is CellKind.TEXT else None
        measured = replace(cell, raw=split[1]) if split else cell
        quantity = self._quantity(line, split[0] if split else None)
        return quantity, self.lengths.read(line, measured, where)

    def _quantity(self, line: Line, split: int | None) -> int | None:
        cell = line.cell("quantity")
        where = self.table.sheet.where(cell)
        if cell.filled:
            count = quantity_of(cell, where, self.findings)
            if split is not None and count is not None and count != split:
                length = self._length_cell(line)
                self.findings.ask(
                    "two-quantities",
                    self.table.sheet.where(length),
                    length.raw,
                    f"The length cell says {split}, the quantity column {count}; keep one.",
                )
                return None
            return count
        if split is not None:
            if split < 1:
                length = self._length_cell(line)
                self.findings.error(
                    "quantity-out-of-range",
                    self.table.sheet.where(length),
                    length.raw,
                    "A quantity below 1 cannot be made.",
                )
                return None
            self.gathered.add(
                Severity.NOTE,
                "quantity-in-length",
                "Quantity and length stood in one cell and were parted.",
                self._length_cell(line),
            )
            return split
        self.default("quantity", "1", line)
        return 1


def floor_of_tab(name: str) -> str:
    """Give the floor a tab's name speaks of (``Level 3``, ``L03``); empty when it speaks of none."""
    plain = name.strip()
    if re.fullmatch(
        r"(?:.*\b)?(?:floor|level|storey|story|basement|ground|attic|roof|mezzanine)\b.*", plain, re.I
    ):
        return plain
    return plain if re.fullmatch(r"[LF]?[0-9]{1,3}", plain, re.IGNORECASE) else ""
