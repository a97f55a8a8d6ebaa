"""Families, bars and offcuts as the sheets of the input workbook, both ways."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction
from pathlib import Path

from api.catalogue.contents import Contents
from nesting.domain.material import Family
from nesting.domain.stock import Offcut, StockLine
from nesting.errors import InputRefused, Where
from nesting.money import money_text
from nesting.sheets.cells import Sheet
from nesting.sheets.columns import FAMILIES, OFFCUTS, SAW, STOCK, SheetPlan
from nesting.sheets.findings import Findings
from nesting.sheets.read_catalogue import read_families, read_offcuts, read_stock
from nesting.sheets.read_csv import read_csv
from nesting.sheets.read_currency import Named, currencies_of, settled_currency
from nesting.sheets.read_header import Table, find_header, has_lines, read_table
from nesting.sheets.read_options import NO_OPTIONS
from nesting.sheets.read_saw import NO_SAW_SHEET, read_saw_sheet
from nesting.sheets.read_tabs import plan_of
from nesting.sheets.read_terms import breaks_text
from nesting.sheets.read_workbook import read_workbook
from nesting.sheets.template import write_template
from nesting.units import Length, mm_text

Rows = dict[str, list[dict[str, str]]]
_NOT_TAKEN = ("saw-not-kept", "list-not-planned")


def rows_of(have: Contents) -> Rows:
    """Give the rows of the sheets Families, Stock and Offcuts; lengths in millimetres, exact."""
    return {
        "Families": [_family_row(family) for family in have.families],
        "Stock": [_stock_row(line, have.currency) for line in have.stock],
        "Offcuts": [_offcut_row(offcut) for offcut in have.offcuts],
    }


def write_catalogue(have: Contents, path: Path) -> None:
    """Write an input workbook that holds families, bars and offcuts, and reads back as the same."""
    write_template(path, rows_of(have))


def read_catalogue(path: Path) -> Contents:
    """
    Read the sheets Families, Stock and Offcuts of a workbook, or a CSV file that is one of them.

    Raises
    ------
    InputRefused
        When anything in them is not plain, or there is no such sheet.
    """
    findings = Findings()
    families: list[Family] = []
    stock: list[StockLine] = []
    offcuts: list[Offcut] = []
    named: list[Named] = []
    met = False
    for plan, table in _tables(path, findings):
        met = True
        named += currencies_of(table)
        if plan is FAMILIES:
            families += read_families(table, findings, None)
        elif plan is STOCK:
            stock += read_stock(table, findings, None)
        else:
            offcuts += read_offcuts(table, findings, None)
    if not met and not findings.refuses:
        findings.error(
            "no-catalogue",
            Where(path.name),
            "",
            "The file has none of the sheets Families, Stock and Offcuts.",
        )
    currency = settled_currency("", named, findings)
    if findings.refuses:
        raise InputRefused(findings.all)
    notes = tuple(one for one in findings.all if one.code in _NOT_TAKEN)
    return Contents(tuple(families), tuple(stock), tuple(offcuts), currency, notes)


def _tables(path: Path, findings: Findings) -> Iterator[tuple[SheetPlan, Table]]:
    sheets = read_csv(path, findings) if path.suffix == ".csv" else read_workbook(path, findings)
    for sheet in sheets:
        plan = plan_of(sheet) if sheet.rows else None
        if plan not in (FAMILIES, STOCK, OFFCUTS):
            if plan is not None:
                _tell_not_taken(plan, sheet, findings)
            continue
        header = find_header(plan, sheet)
        if header is None:
            findings.error("no-header", sheet.where(), sheet.rows[0].raw, "The headings are not understood.")
        else:
            yield plan, read_table(plan, sheet, header, findings)


def _tell_not_taken(plan: SheetPlan, sheet: Sheet, findings: Findings) -> None:
    """Note a sheet that says something and is none of a catalogue; an empty template says nothing."""
    if plan is SAW:
        if read_saw_sheet(sheet, Findings(), NO_OPTIONS) != NO_SAW_SHEET:
            findings.note(
                "saw-not-kept",
                sheet.where(),
                "",
                "No saw is kept here: every list is planned with its own Saw sheet or with what is typed "
                "beside it, and with common values where neither says anything.",
            )
    elif has_lines(plan, sheet):
        findings.note(
            "list-not-planned",
            sheet.where(),
            "",
            "Only the catalogue was taken in; post the workbook to /v1/plans to plan its list.",
        )


def _family_row(family: Family) -> dict[str, str]:
    return {
        column.heading: _said(getattr(family, column.field), length=column.length)
        for column in FAMILIES.columns
        if hasattr(family, column.field)
    }


def _said(value: object, *, length: bool) -> str:
    """Give a value as a cell that reads back as the same one."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, StrEnum | str):
        return str(value)
    if not isinstance(value, int | Fraction):
        raise TypeError(type(value).__name__)
    if not length:
        return str(value) if isinstance(value, int) or value.denominator == 1 else _decimal(value)
    exact = Fraction(value)
    over = "" if exact.denominator == 1 else f"/{exact.denominator}"
    return f"{mm_text(Length(exact.numerator))}{over} mm"


def _decimal(value: Fraction) -> str:
    """Give a fraction with a decimal point where it ends, else as a quotient."""
    rest = value.denominator
    for prime in (2, 5):
        while rest % prime == 0:
            rest //= prime
    if rest != 1:
        return f"{value.numerator}/{value.denominator}"
    return format(Decimal(value.numerator) / Decimal(value.denominator), "f")


def _stock_row(line: StockLine, currency: str) -> dict[str, str]:
    price = "" if line.price is None else money_text(line.price)
    return {
        "Family": line.family,
        "Finish": line.finish,
        "Part": line.part.value,
        "Length": f"{mm_text(line.length)} mm",
        "Price": f"{price} {currency}".strip() if price else "",
        "Count": "" if line.count is None else str(line.count),
        "On hand": str(line.on_hand) if line.on_hand else "",
        "Value on hand": "" if line.hand_value is None else money_text(line.hand_value),
        "Pack": str(line.pack) if line.pack > 1 else "",
        "Minimum": str(line.minimum) if line.minimum else "",
        "Price breaks": breaks_text(line.breaks),
        "Supplier": line.supplier,
        "Lead days": "" if line.lead_days is None else str(line.lead_days),
    }


def _offcut_row(offcut: Offcut) -> dict[str, str]:
    return {
        "Tag": offcut.tag,
        "Family": offcut.family,
        "Finish": offcut.finish,
        "Part": offcut.part.value,
        "Length": f"{mm_text(offcut.length)} mm",
        "Left end": offcut.left.value,
        "Right end": offcut.right.value,
        "Lot": offcut.lot,
        "Rack place": offcut.place,
        "Value": "" if offcut.value is None else money_text(offcut.value),
        "Born": offcut.born,
    }
