"""Find the header of a list by meaning, and what its columns say."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace

from nesting.sheets.cells import Cell, CellKind, Row, Sheet, column_letters
from nesting.sheets.columns import Column, SheetKind, SheetPlan, match_heading, plain_words
from nesting.sheets.findings import Findings, listed
from nesting.sheets.read_title import Title, read_title
from nesting.sheets.read_values import unit_of
from nesting.units import Unit, read_unit

LENGTH_FIELDS = ("length", "opening", "finished", "channel")
_LONGEST_HEADING = 60
_SEARCHED_ROWS = 100
_FEET_AND_INCHES = re.compile(
    r"\b(?:ft|feet|foot)\b\.?\s*(?:[-–/&+,]|and)?\s*(?:in|ins|inch|inches)\b|['′]\s*[-–/]?\s*[\"″]",
    re.IGNORECASE,
)
_TYPE_HEADING = re.compile(r"(?:(?:type|unit|apt|apartment|flat|plan|stack)\b.*|[A-Z][0-9]?)", re.IGNORECASE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """
    A list within a sheet.

    Parameters
    ----------
    columns
        Column number of each field; of the length fields only one.
    extras
        (column number, heading) of the columns that are not ours, in order.
    length_field
        Which of the length fields the list has; empty when it has none.
    """

    plan: SheetPlan
    sheet: Sheet
    header: Row
    columns: dict[str, int]
    extras: tuple[tuple[int, str], ...]
    title: Title

    @property
    def length_field(self) -> str:
        """The field whose column holds the length."""
        return next((name for name in LENGTH_FIELDS if name in self.columns), "")

    @property
    def body(self) -> Iterator[Row]:
        """The rows below the header."""
        return (row for row in self.sheet.rows if row.number > self.header.number)

    def heading(self, name: str) -> str:
        """Give the heading of a field as the list spells it."""
        return self.header.cell(self.columns[name]).text

    def in_feet_and_inches(self, name: str) -> bool:
        """Tell whether a column's heading says feet and inches, as ``Length (ft-in)`` does."""
        return bool(name in self.columns and _FEET_AND_INCHES.search(self.heading(name)))

    def unit(self, name: str) -> Unit | None:
        """Give the unit of a field's column: the heading's, else the title block's."""
        return read_unit(self.heading(name)) or self.title.unit


def find_header(plan: SheetPlan, sheet: Sheet) -> Row | None:
    """Give the first row whose cells mean the columns this kind of sheet cannot do without."""
    return next((row for row in sheet.rows[:_SEARCHED_ROWS] if is_header(plan, row)), None)


def is_header(plan: SheetPlan, row: Row) -> bool:
    """Tell whether a row is a header of this kind of sheet."""
    met = [found for cell in row.cells.values() if (found := _meaning(plan, cell))]
    fields = {_slot(column.field) for column, _ in met}
    firm = sum(1 for _, sure in met if sure)
    alone = len(row.cells) == 1 and plan.needs == ("length",)
    return set(plan.needs) <= fields and firm >= 1 and (len(fields) >= 2 or alone)


def has_lines(plan: SheetPlan, sheet: Sheet) -> bool:
    """Tell whether anything stands below the header; a template's unused sheet is no second list."""
    header = find_header(plan, sheet)
    return header is None or any(row.number > header.number for row in sheet.rows)


def read_table(plan: SheetPlan, sheet: Sheet, header: Row, findings: Findings) -> Table:
    """Say which column means what, and ask where two mean the same."""
    header = _with_second_row(plan, sheet, header)
    claims: dict[str, list[tuple[bool, int, str]]] = {}
    extras: list[tuple[int, str]] = []
    for number, cell in sorted(header.cells.items()):
        found = _meaning(plan, cell)
        if found is None:
            extras.append((number, cell.text))
        else:
            claims.setdefault(_slot(found[0].field), []).append((found[1], number, found[0].field))
    extras += _without_heading(sheet, header, findings)
    columns: dict[str, int] = {}
    for claim in claims.values():
        firm = [entry for entry in claim if entry[0]]
        kept = firm or claim
        if len(kept) > 1:
            cells = [header.cell(number) for _, number, _ in kept]
            findings.ask(
                "two-columns",
                sheet.where(cells[1]),
                ", ".join(cell.text for cell in cells),
                f"{listed([cell.at for cell in cells])} mean the same; keep one, or rename the others.",
            )
        _, number, name = kept[0]
        columns[name] = number
        extras += [(other, header.cell(other).text) for _, other, _ in claim if other != number]
    table = Table(
        plan=plan,
        sheet=sheet,
        header=header,
        columns=columns,
        extras=tuple(sorted(extras)),
        title=read_title(sheet, header, findings),
    )
    table = _unit_column(table, findings)
    return _line_numbers(table, findings)


def is_matrix(table: Table) -> bool:
    """Tell whether counts stand under unit types instead of in one quantity column."""
    if table.plan.kind is not SheetKind.RUNS or "quantity" in table.columns:
        return False
    counted = []
    for number, heading in table.extras:
        cells = [row.cell(number) for row in table.body]
        texts = [cell.text for cell in cells if cell.filled]
        if texts and all(re.fullmatch(r"[0-9]{1,2}|[-–]", text) for text in texts):
            counted.append(heading)
    typed = [heading for heading in counted if _TYPE_HEADING.fullmatch(heading)]
    return len(typed) >= 2 or len(counted) >= 4


def _meaning(plan: SheetPlan, cell: Cell) -> tuple[Column, bool] | None:
    if cell.kind is not CellKind.TEXT or len(cell.text) > _LONGEST_HEADING:
        return None
    return match_heading(plan, cell.text)


def _with_second_row(plan: SheetPlan, sheet: Sheet, header: Row) -> Row:
    """Join the header with the row below where that only divides its columns, as Ends: left, right."""
    below = next((row for row in sheet.rows if row.number == header.number + 1), None)
    if below is None or len(below.cells) < 2:
        return header
    cells = dict(header.cells)
    parent = ""
    for number in range(1, max(*header.cells, *below.cells) + 1):
        parent = header.cell(number).text or parent
        cell = below.cell(number)
        if not cell.filled:
            continue
        wordings = (cell.text, f"{parent} {cell.text}")
        said = next(
            (text for text in wordings if cell.kind is CellKind.TEXT and match_heading(plan, text)), None
        )
        if said is None or said == header.cell(number).text:
            return header
        cells[number] = replace(cell, raw=said)
    return Row(number=below.number, cells=cells)


def _without_heading(sheet: Sheet, header: Row, findings: Findings) -> list[tuple[int, str]]:
    """Give the columns that hold something beside the list but have no heading; they are kept and told."""
    first: dict[int, Cell] = {}
    for row in sheet.rows:
        if row.number > header.number and len(row.cells) > 2:
            for number, cell in row.cells.items():
                if number not in header.cells:
                    first.setdefault(number, cell)
    for cell in first.values():
        findings.warning(
            "column-without-heading",
            sheet.where(cell),
            cell.raw,
            "The column has no heading, so its meaning is not read; its texts are kept with their lines.",
        )
    return [(number, f"column {column_letters(number)}") for number in first]


def _slot(name: str) -> str:
    """Give what a column competes for: the length fields are one thing in four wordings."""
    return "length" if name in LENGTH_FIELDS else name


def _unit_column(table: Table, findings: Findings) -> Table:
    """Take a Unit column full of mm and inches for the unit of length, not for apartments."""
    number = table.columns.get("unit")
    if number is None or "length_unit" in table.columns:
        return table
    texts = {cell.text for row in table.body if (cell := row.cell(number)).filled}
    # "M" and "m" name a metre, but also an apartment; a list in metres alone does not exist here.
    if not texts or not all(unit_of(text) for text in texts) or texts <= {"M", "m"}:
        return table
    heading = table.header.cell(number)
    findings.note(
        "unit-of-length",
        table.sheet.where(heading),
        heading.text,
        "The column holds units of length, so it is not read as the apartment.",
    )
    columns = {name: column for name, column in table.columns.items() if name != "unit"}
    return _with_columns(table, {**columns, "length_unit": number}, table.extras)


def _line_numbers(table: Table, findings: Findings) -> Table:
    """Take a "No." column that counts 1, 2, 3 for line numbers, not for quantities."""
    number = table.columns.get("quantity")
    if number is None:
        return table
    heading = table.header.cell(number)
    found = match_heading(table.plan, heading.text)
    texts = [cell.text for row in table.body if (cell := row.cell(number)).filled]
    counts = [int(text) for text in texts if re.fullmatch(r"[0-9]{1,6}", text)]
    if found is None or found[1] or len(counts) < 3 or counts != list(range(1, len(counts) + 1)):
        return table
    columns = {name: column for name, column in table.columns.items() if name != "quantity"}
    extras = table.extras
    if "id" in columns:
        extras = tuple(sorted([*extras, (number, heading.text)]))
    else:
        columns["id"] = number
    findings.warning(
        "line-numbers",
        table.sheet.where(heading),
        heading.text,
        "The column counts 1, 2, 3 and is read as line numbers; name it Quantity if it is one.",
    )
    return _with_columns(table, columns, extras)


def _with_columns(table: Table, columns: dict[str, int], extras: tuple[tuple[int, str], ...]) -> Table:
    return Table(
        plan=table.plan,
        sheet=table.sheet,
        header=table.header,
        columns=columns,
        extras=extras,
        title=table.title,
    )


def same_heading(header: Row, row: Row) -> bool:
    """Tell whether a row repeats the header, as at the top of each printed page."""
    texts = [(plain_words(cell.text), plain_words(header.cell(n).text)) for n, cell in row.cells.items()]
    return len(texts) >= min(2, len(header.cells)) and all(here == there for here, there in texts)
