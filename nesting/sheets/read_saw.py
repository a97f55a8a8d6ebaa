"""The Saw sheet: allowances of the channel saw and the cover saw, and a few texts for the whole list."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from nesting.domain.buying import PLAIN_BUYING, BuyingRules
from nesting.domain.goals import PLAIN_GOALS, Goals
from nesting.domain.rules import DEFAULT_SAW, SawRules
from nesting.domain.status import Purpose
from nesting.errors import Where
from nesting.sheets.cells import Cell, Row, Sheet
from nesting.sheets.columns import (
    BUYING_TEXTS,
    GOAL_TEXTS,
    SAW,
    SAW_LENGTHS,
    SAW_TEXTS,
    match_heading,
    plain_words,
)
from nesting.sheets.findings import Findings
from nesting.sheets.read_currency import Named, settled_currency
from nesting.sheets.read_goals import goals_of
from nesting.sheets.read_header import find_header
from nesting.sheets.read_options import ReadOptions
from nesting.sheets.read_plausible import check_saw_value
from nesting.sheets.read_terms import buying_of
from nesting.sheets.read_values import choice_of, length_of, text_of, unit_of
from nesting.units import Length, Unit, length_text, read_unit

_NAMES = {
    plain_words(spelling): field
    for table in (SAW_LENGTHS, SAW_TEXTS, GOAL_TEXTS, BUYING_TEXTS)
    for field, (name, others, _) in table.items()
    for spelling in (name, *others)
}


@dataclass(frozen=True, slots=True, kw_only=True)
class SawSheet:
    """What a Saw sheet says; None or empty where it says nothing."""

    lengths: dict[str, Length]
    cover: dict[str, Length]
    title: str = ""
    currency: str = ""
    unit: Unit | None = None
    buying: BuyingRules = PLAIN_BUYING
    goals: Goals = PLAIN_GOALS
    purpose: Purpose = Purpose.ORDER


_TEXTS = {**SAW_TEXTS, **GOAL_TEXTS, **BUYING_TEXTS}
_LINES = (*SAW_LENGTHS.values(), *_TEXTS.values())
_PURPOSES = {
    **dict.fromkeys(("order", "ordering", "buy", "buying", "purchase"), Purpose.ORDER),
    **dict.fromkeys(("cut", "cutting", "saw", "sawing"), Purpose.CUT),
}
NO_SAW_SHEET = SawSheet(lengths={}, cover={})


def looks_like_saw(sheet: Sheet) -> bool:
    """Tell whether a sheet lists saw allowances by name, whatever its tab is called."""
    return sum(1 for row in sheet.rows if _field(row.cell(1).text) in SAW_LENGTHS) >= 3


def read_saw_sheet(sheet: Sheet, findings: Findings, options: ReadOptions) -> SawSheet:
    """Read the names and values of a Saw sheet; unknown names are noted."""
    header = find_header(SAW, sheet)
    columns = {"name": 1, "value": 2, "cover": 3}
    start = 0
    if header is not None:
        start = header.number
        met = {n: match_heading(SAW, cell.text) for n, cell in header.cells.items()}
        columns |= {"cover": 0} | {found[0].field: n for n, found in met.items() if found}
    rows = [row for row in sheet.rows if row.number > start and row.cell(columns["name"]).filled]
    texts = {
        field: row.cell(columns["value"])
        for row in rows
        if (field := _field(row.cell(columns["name"]).text)) in _TEXTS and row.cell(columns["value"]).filled
    }
    unit = _unit(texts.get("unit"), sheet, findings)
    lengths: dict[str, Length] = {}
    cover: dict[str, Length] = {}
    for row in rows:
        field = _field(row.cell(columns["name"]).text)
        if field in SAW_LENGTHS:
            bare = read_unit(row.cell(columns["name"]).text) or unit or options.unit
            _read_length(row, columns["value"], field, bare, lengths, sheet, findings)
            if columns["cover"]:
                _read_length(row, columns["cover"], field, bare, cover, sheet, findings)
        elif not field:
            cell = row.cell(columns["name"])
            known = ", ".join(name for name, _, _ in _LINES)
            findings.warning(
                "saw-name-unknown", sheet.where(cell), cell.raw, f"Not read; known names are {known}."
            )
    if header is not None:
        _tell_unread(sheet, header, set(columns.values()), findings)
    return SawSheet(
        lengths=lengths,
        cover=cover,
        title=_text(texts.get("title"), sheet, findings),
        currency=_text(texts.get("currency"), sheet, findings).upper(),
        unit=unit,
        buying=buying_of(
            {field: cell for field, cell in texts.items() if field in BUYING_TEXTS}, sheet.where, findings
        ),
        goals=goals_of(texts, sheet.where, findings),
        purpose=_purpose(texts.get("purpose"), sheet, findings),
    )


def _tell_unread(sheet: Sheet, header: Row, read: set[int], findings: Findings) -> None:
    """Warn of a column of figures whose heading is not known."""
    accepted = ", ".join(column.heading for column in SAW.columns)
    for number, heading in header.cells.items():
        cells = [row.cell(number) for row in sheet.rows if row.number > header.number]
        if (
            match_heading(SAW, heading.text)
            or number in read
            or not any(cell.text[:1].isdigit() for cell in cells)
        ):
            continue
        findings.warning(
            "column-not-read",
            sheet.where(heading),
            heading.text,
            f"The heading is not known, so the values below it are not read. Headings read: {accepted}.",
        )


def saw_rules(
    sheet: SawSheet, options: ReadOptions, source: str, findings: Findings
) -> tuple[SawRules, SawRules | None]:
    """
    Give the channel saw and the cover saw: option, else sheet, else common practice with a warning.

    The cover saw takes from the channel saw what its column leaves blank; None when it has no column.
    """
    values: dict[str, Length] = {}
    for field, (name, _, meaning) in SAW_LENGTHS.items():
        said: Length | None = getattr(options, field)
        if said is not None:
            option = Where("request", f"--{field.replace('_', '-')}")
            check_saw_value(field, said, option, length_text(said, Unit.MM), findings)
        else:
            said = sheet.lengths.get(field)
        if said is None:
            said = getattr(DEFAULT_SAW, field)
            findings.warning(
                f"default-{field.replace('_', '-')}",
                Where(source),
                "",
                f"No {name.lower()} is given; {length_text(said, Unit.MM)} is taken (common practice). "
                f"{meaning}",
            )
        values[field] = said
    saw = SawRules(**values)
    return saw, SawRules(**(values | sheet.cover)) if sheet.cover else None


def currency_of(
    sheet: SawSheet, options: ReadOptions, source: str, named: Sequence[Named], findings: Findings
) -> str:
    """Give the currency code, else the one prices are named with; a finding when it is not three letters."""
    code = options.currency or sheet.currency
    if code and not (len(code) == 3 and code.isascii() and code.isalpha()):
        findings.error(
            "currency-not-understood",
            Where(source),
            code,
            "Accepted is an ISO 4217 code of three letters, such as XTS.",
        )
        return ""
    return settled_currency(code.upper(), (*options.named, *named), findings)


def _field(name: str) -> str:
    plain = plain_words(name)
    if plain in _NAMES:
        return _NAMES[plain]
    words = plain.split()
    while words and unit_of(words[-1]):
        words.pop()
    return _NAMES.get(" ".join(words), "")


def _read_length(
    row: Row,
    column: int,
    field: str,
    unit: Unit | None,
    into: dict[str, Length],
    sheet: Sheet,
    findings: Findings,
) -> None:
    cell = row.cell(column)
    if not cell.filled:
        return
    where = sheet.where(cell)
    if field in into:
        findings.error(
            "duplicate-saw-value", where, cell.raw, f"{SAW_LENGTHS[field][0]} is given twice; keep one."
        )
        return
    reading = length_of(cell, unit, where, findings, may_be_zero=True)
    if reading is not None:
        into[field] = reading.length
        check_saw_value(field, reading.length, where, cell.raw, findings)


def _unit(cell: Cell | None, sheet: Sheet, findings: Findings) -> Unit | None:
    if cell is None:
        return None
    unit = unit_of(cell.text)
    if unit is None:
        findings.error(
            "unit-not-understood",
            sheet.where(cell),
            cell.raw,
            "Accepted as unit of length: mm, cm, m, in, ft.",
        )
    return unit


def _purpose(cell: Cell | None, sheet: Sheet, findings: Findings) -> Purpose:
    if cell is None:
        return Purpose.ORDER
    return choice_of(cell, _PURPOSES, "purpose", sheet.where(cell), findings) or Purpose.ORDER


def _text(cell: Cell | None, sheet: Sheet, findings: Findings) -> str:
    return text_of(cell, sheet.where(cell), findings) if cell is not None else ""
