"""Read the sheets of an .xlsx workbook as cells; no meaning yet."""

from __future__ import annotations

import datetime
import posixpath
import re
import warnings
import zipfile
from decimal import Decimal
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

from nesting.errors import Where
from nesting.sheets.cells import Cell, CellKind, Row, Sheet, text_cell
from nesting.sheets.findings import Findings
from nesting.sheets.limits import LIMITS, Limits, check_file
from nesting.sheets.read_marks import Marks, TooFar, read_marks
from nesting.units import read_unit

_SUFFIX = re.compile(r'[0#?](?P<literal>(?:"[^"]*"|\\.)+)$')
_RELATION = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}id"
_STRICT_RELATION = "{http://purl.oclc.org/ooxml/officeDocument/relationships}id"


def read_workbook(
    path: Path, findings: Findings, limits: Limits = LIMITS, *, tabs: frozenset[str] | None = None
) -> tuple[Sheet, ...]:
    """
    Give every worksheet of a workbook; none, with a finding, when the file cannot be read.

    Formulas are read by the value their program last stored, dates stay dates, and numbers keep the
    15 digits a spreadsheet holds.

    Parameters
    ----------
    tabs
        Names of the sheets wanted; None for all of them.
    """
    if not check_file(path, findings, limits):
        return ()
    where = Where(path.name)
    try:
        with zipfile.ZipFile(path) as archive:
            marks = {
                name: read_marks(archive, part, limits)
                for name, part in _worksheets(archive).items()
                if tabs is None or name in tabs
            }
        return _read_values(path, marks, findings, limits)
    except TooFar as why:
        findings.error(
            "sheet-too-large", where, str(why), "Delete the rows and columns that are not part of the list."
        )
    except Exception as why:  # whatever a malformed part makes the parsers raise, the user gets a finding
        findings.error(
            "damaged-file",
            where,
            type(why).__name__,
            "The workbook cannot be read; open it in a spreadsheet program and save it again as .xlsx.",
        )
    return ()


def _worksheets(archive: zipfile.ZipFile) -> dict[str, str]:
    """Give the archive member of each worksheet, by the tab's name."""
    workbook = _workbook_part(archive)
    folder, file = posixpath.split(workbook)
    relations = ElementTree.fromstring(archive.read(f"{folder}/_rels/{file}.rels"))
    targets = {
        relation.get("Id"): posixpath.normpath(posixpath.join("/", folder, relation.get("Target", "")))
        for relation in relations
        if relation.get("Type", "").endswith("/worksheet")
    }
    found: dict[str, str] = {}
    for element in ElementTree.fromstring(archive.read(workbook)).iter():
        if element.tag.rpartition("}")[2] == "sheet":
            target = targets.get(element.get(_RELATION) or element.get(_STRICT_RELATION))
            if target:
                found[element.get("name", "")] = target.lstrip("/")
    return found


def _workbook_part(archive: zipfile.ZipFile) -> str:
    for relation in ElementTree.fromstring(archive.read("_rels/.rels")):
        if relation.get("Type", "").endswith("/officeDocument"):
            return relation.get("Target", "").lstrip("/")
    return "xl/workbook.xml"


def _read_values(
    path: Path, marks: dict[str, Marks], findings: Findings, limits: Limits
) -> tuple[Sheet, ...]:
    import openpyxl

    _keep_quiet()
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # it warns of styles and extensions, which carry no value here
        book = openpyxl.load_workbook(path, read_only=True, data_only=True, keep_links=False)
        try:
            return tuple(
                _read_sheet(sheet, marks[sheet.title], findings, limits)
                for sheet in book.worksheets
                if sheet.title in marks
            )
        finally:
            book.close()


def _keep_quiet() -> None:
    """
    Stop the reader from printing the numbers of styles that a damaged file lacks, before it raises.

    Its own name for ``print`` is replaced; to redirect the standard output would take it from every thread.
    """
    from openpyxl.styles import cell_style

    vars(cell_style)["print"] = lambda *_: None


def _read_sheet(sheet: Any, marks: Marks, findings: Findings, limits: Limits) -> Sheet:
    sheet.reset_dimensions()  # the declared size may be a lie
    rows = []
    # A column limit would make it fill every row up to that limit; the marks have seen to it already.
    for number, values in enumerate(sheet.iter_rows(max_row=limits.rows), 1):
        cells = {}
        for column, value in enumerate(values[: limits.columns], 1):
            cell = _read_cell(value, number, column)
            if (number, column) in marks.uncalculated:
                cell = Cell(
                    row=number, column=column, kind=CellKind.UNCALCULATED, raw="formula without a value"
                )
            if cell.filled:
                cells[column] = _shortened(cell, sheet.title, findings, limits)
        if cells:
            rows.append(Row(number=number, cells=cells, hidden=number in marks.hidden))
    return Sheet(
        name=sheet.title, rows=tuple(rows), blocks=marks.blocks, hidden=sheet.sheet_state != "visible"
    )


def _shortened(cell: Cell, sheet: str, findings: Findings, limits: Limits) -> Cell:
    if len(cell.raw) <= limits.text:
        return cell
    findings.error(
        "text-too-long", Where(sheet, cell.at), cell.raw, f"A cell may hold at most {limits.text} characters."
    )
    return text_cell(cell.row, cell.column, cell.raw[:80])


def _read_cell(met: Any, row: int, column: int) -> Cell:
    value = met.value
    if value is None:
        return Cell(row=row, column=column)
    struck = bool(met.font and met.font.strike)
    coloured = bool(met.fill and met.fill.fill_type == "solid" and not _white(met.fill.fgColor))

    def cell(kind: CellKind, raw: str, day: datetime.date | None = None) -> Cell:
        return Cell(row=row, column=column, kind=kind, raw=raw, day=day, struck=struck, coloured=coloured)

    if isinstance(value, bool):
        return cell(CellKind.BOOLEAN, str(value).upper())
    if met.data_type == "e":
        return cell(CellKind.ERROR, str(value))
    if isinstance(value, (int, float)):
        return cell(CellKind.NUMBER, number_text(value) + _unit_suffix(str(met.number_format)))
    if isinstance(value, datetime.datetime):
        return cell(CellKind.DATE, value.date().isoformat(), value.date())
    if isinstance(value, (datetime.date, datetime.time, datetime.timedelta)):
        return cell(CellKind.DATE, str(value), value if isinstance(value, datetime.date) else None)
    return text_cell(row, column, str(value), struck=struck, coloured=coloured)


def _white(colour: Any) -> bool:
    if colour.type == "theme":
        return bool(colour.theme == 0)
    return colour.type == "rgb" and str(colour.rgb).upper().endswith("FFFFFF")


def number_text(value: int | float) -> str:
    """Give a number in plain digits, at the 15 significant ones a spreadsheet keeps: ``1806``, ``36.25``."""
    plain = format(Decimal(format(value, ".15g") if isinstance(value, float) else value), "f")
    return plain.rstrip("0").rstrip(".") if "." in plain else plain


def _unit_suffix(number_format: str) -> str:
    """Give the unit that a number format such as ``0" mm"`` prints behind the number."""
    match = _SUFFIX.search(number_format.split(";")[0])
    literal = re.sub(r'["\\]', "", match["literal"]).strip() if match else ""
    return f" {literal}" if literal and read_unit(literal) else ""
