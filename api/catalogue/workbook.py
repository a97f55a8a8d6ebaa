"""Families, bars and offcuts as the sheets of the input workbook, both ways."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from api.catalogue.contents import Contents
from nesting.domain.material import Family
from nesting.domain.stock import Offcut, StockLine
from nesting.errors import InputRefused, Where
from nesting.money import money_text
from nesting.sheets.columns import FAMILIES, OFFCUTS, STOCK, SheetPlan
from nesting.sheets.findings import Findings
from nesting.sheets.read_catalogue import read_families, read_offcuts, read_stock
from nesting.sheets.read_csv import read_csv
from nesting.sheets.read_header import Table, find_header, read_table
from nesting.sheets.read_tabs import plan_of
from nesting.sheets.read_workbook import read_workbook
from nesting.sheets.template import write_template
from nesting.units import mm_text

Rows = dict[str, list[dict[str, str]]]


def rows_of(have: Contents) -> Rows:
    """Give the rows of the sheets Families, Stock and Offcuts; lengths in millimetres, exact."""
    return {
        "Families": [_family_row(family) for family in have.families],
        "Stock": [_stock_row(line) for line in have.stock],
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
    met = False
    for plan, table in _tables(path, findings):
        met = True
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
    if findings.refuses:
        raise InputRefused(findings.all)
    return Contents(tuple(families), tuple(stock), tuple(offcuts))


def _tables(path: Path, findings: Findings) -> Iterator[tuple[SheetPlan, Table]]:
    sheets = read_csv(path, findings) if path.suffix == ".csv" else read_workbook(path, findings)
    for sheet in sheets:
        plan = plan_of(sheet) if sheet.rows else None
        if plan not in (FAMILIES, STOCK, OFFCUTS):
            continue
        header = find_header(plan, sheet)
        if header is None:
            findings.error("no-header", sheet.where(), sheet.rows[0].raw, "The headings are not understood.")
        else:
            yield plan, read_table(plan, sheet, header, findings)


def _family_row(family: Family) -> dict[str, str]:
    lengths = {
        "Cap thickness": family.cap_thickness,
        "Nose": family.nose,
        "Cover play": family.cover_play,
        "Clearance": family.clearance,
        "Joint gap": family.joint_gap,
        "Shortest section": family.shortest_section,
        "Strip feed": family.strip_feed,
        "Strip tail": family.strip_tail,
    }
    pitch = family.strip_pitch
    return {
        "Family": family.name,
        "Cap style": family.cap_style.value,
        "Cover mode": family.cover_mode.value,
        "Lot rule": family.lot_rule.value,
        "Split": family.split_rule.value,
        "Strip pitch": "" if pitch is None else f"{mm_text(pitch.numerator)}/{pitch.denominator} mm",
        **{name: f"{mm_text(length)} mm" for name, length in lengths.items()},
    }


def _stock_row(line: StockLine) -> dict[str, str]:
    return {
        "Family": line.family,
        "Finish": line.finish,
        "Part": line.part.value,
        "Length": f"{mm_text(line.length)} mm",
        "Price": "" if line.price is None else money_text(line.price),
        "Count": "" if line.count is None else str(line.count),
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
    }
