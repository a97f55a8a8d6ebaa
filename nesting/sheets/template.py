"""The input workbook, empty or filled: what a shop types its run list, catalogue and rack into."""

from __future__ import annotations

import textwrap
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from nesting.sheets.columns import (
    BUYING_TEXTS,
    GOAL_TEXTS,
    PLANS,
    SAW,
    SAW_LENGTHS,
    SAW_TEXTS,
    Column,
    SheetKind,
    SheetPlan,
    match_heading,
    plain_words,
)
from nesting.units import read_unit

_ROWS_WITH_LISTS = 5_000
_FREE_ROWS = 200
_GUIDE_NAME, _GUIDE_TEXT = 30, 84
_ROW_HEIGHT, _TITLE_HEIGHT = 15.5, 22.0
# Of the wordings for one value the template shows the first; another appears only when filled.
_RARE = {
    SheetKind.RUNS: {"opening", "finished", "channel", "clearance", "ends"},
}

_GUIDE = (
    ("Run list for stock-length nesting", ""),
    (
        "Runs",
        "One line for each run, as measured. Only Length is needed once there is one family in one finish.",
    ),
    (
        "Pieces",
        "Instead of runs, or beside them: lengths already taken off, as the saw is set. They are never "
        "divided. Leave the sheet empty if there are none.",
    ),
    ("Families", "How each channel family is put together: caps, cover, strip."),
    ("Stock", "Bars that can be bought or are on hand, with prices of all lengths or of none."),
    ("Offcuts", "What lies on the rack, measured, each with its own tag."),
    (
        "Saw",
        "What each stroke and each bar end costs. Blank lines take common values, and a warning says so.",
    ),
    ("", ""),
    ("Lengths", "Type them with their unit: 1806 mm, 2.4 m, 36 1/4 in, 3' 4-1/2\"."),
    ("", "A unit in the heading, such as Length (in), or in the Saw sheet counts for cells without one."),
    (
        "Dates",
        "A spreadsheet makes a date of 3/8 typed into an ordinary cell. The length columns here are text, "
        "so they keep it. In other sheets type 0 3/8. A date in a length column is refused, never read.",
    ),
    ("View", "Stand facing the lit face, mounting side away from you. Left is left."),
    ("Columns", "May stand in any order; columns of your own are kept. Delete those you do not need."),
    (
        "Left out",
        "Lines struck through, or with cancelled in Status or Note, are left out and listed as such.",
    ),
    ("", ""),
    ("Caution", "A length from a drawing is not for cutting until somebody has verified it on site."),
    ("", "Set Status to drawing or verify for such lines; plan with them, do not cut from them."),
    ("", "A cut plan is arithmetic: measure the first piece, check the tail, and stop if it differs."),
)


def write_template(path: Path, rows: Mapping[str, Sequence[Mapping[str, str]]] | None = None) -> None:
    """
    Write the input workbook.

    Parameters
    ----------
    path
        Where to; an existing file is replaced.
    rows
        Sheet name to its rows, each a mapping of heading to text. Headings are matched by meaning
        as in reading; a unit in one goes into the cells, so ``{"Length (mm)": "1806"}`` becomes
        ``1806 mm``. Headings that are not ours become columns of their own at the right.

    Raises
    ------
    ValueError
        When a sheet of ``rows`` is none of the workbook's.
    """
    import xlsxwriter

    filled = dict(rows or {})
    if unknown := set(filled) - {plan.kind.value for plan in PLANS}:
        raise ValueError(f"No such sheet: {', '.join(sorted(unknown))}.")
    options = {"strings_to_formulas": False, "strings_to_urls": False, "strings_to_numbers": False}
    with xlsxwriter.Workbook(str(path), options) as book:
        formats = _formats(book)
        _write_guide(book, filled, formats)
        for plan in PLANS:
            _write_sheet(
                book, plan, _saw_rows(filled) if plan is SAW else filled.get(plan.kind.value, ()), formats
            )


def _formats(book: Any) -> dict[str, Any]:
    return {
        "heading": book.add_format({"bold": True, "bottom": 2, "text_wrap": True, "valign": "top"}),
        "title": book.add_format({"bold": True, "font_size": 14}),
        "strong": book.add_format({"bold": True, "valign": "top", "text_wrap": True}),
        "text": book.add_format({"num_format": "@", "valign": "top"}),
        "wrapped": book.add_format({"text_wrap": True, "valign": "top"}),
    }


def _write_guide(
    book: Any, filled: Mapping[str, Sequence[Mapping[str, str]]], formats: dict[str, Any]
) -> None:
    """Write the guide: what each sheet is for, then each column that is in it."""
    sheet = book.add_worksheet("Guide")
    sheet.set_column(0, 0, _GUIDE_NAME, formats["wrapped"])
    sheet.set_column(1, 1, _GUIDE_TEXT, formats["wrapped"])
    sheet.hide_gridlines(2)
    lines: list[tuple[str, str, str]] = [("title", *_GUIDE[0]), *(("strong", *line) for line in _GUIDE[1:])]
    for plan in PLANS:
        shown, _ = _columns(plan, filled.get(plan.kind.value, ()))
        if hints := [column for column in shown if column.hint]:
            lines += [("strong", "", ""), ("title", f"Sheet {plan.kind.value}", "")]
            lines += [("strong", column.heading, column.hint) for column in hints]
    for number, (form, name, text) in enumerate(lines):
        if form == "title":
            # Merged, since a title is wider than the column of names.
            sheet.merge_range(number, 0, number, 1, name, formats["title"])
            sheet.set_row(number, _TITLE_HEIGHT)
        else:
            sheet.write_string(number, 0, name, formats["strong"])
            sheet.write_string(number, 1, text, formats["wrapped"])
            # Not every program makes a row as high as its wrapped text when it opens a file.
            rows = max(_rows_of(name, _GUIDE_NAME), _rows_of(text, _GUIDE_TEXT))
            sheet.set_row(number, rows * _ROW_HEIGHT)
    _set_up_page(sheet, landscape=False)


def _rows_of(text: str, width: int) -> int:
    """Give the rows a text takes when it is wrapped at a width in characters, at least one."""
    return max(len(textwrap.wrap(text, width)), 1)


def _write_sheet(
    book: Any, plan: SheetPlan, rows: Sequence[Mapping[str, str]], formats: dict[str, Any]
) -> None:
    sheet = book.add_worksheet(plan.kind.value)
    columns, own = _columns(plan, rows)
    headings = [*(column.heading for column in columns), *own]
    for number, heading in enumerate(headings):
        column = columns[number] if number < len(columns) else None
        width = max(column.width if column else 14, min(len(heading) + 2, 24))
        # Everything is text: names such as 3-05 turn into dates as easily as lengths do.
        sheet.set_column(number, number, width, formats["text"])
        sheet.write_string(0, number, heading, formats["heading"])
        if column and column.choices:
            sheet.data_validation(
                1,
                number,
                _ROWS_WITH_LISTS,
                number,
                {"validate": "list", "source": list(column.choices), "error_type": "warning"},
            )
        if column and column.hint:
            sheet.write_comment(0, number, column.hint)
    for at, row in enumerate(rows, 1):
        for heading, text in row.items():
            found = match_heading(plan, heading)
            number = columns.index(found[0]) if found else headings.index(heading)
            if text:
                sheet.write_string(
                    at, number, _with_unit(text, heading, found[0] if found else None), formats["text"]
                )
    if plan is SAW:
        units = list(next(column for column in PLANS[0].columns if column.field == "length_unit").choices)
        at = 1 + [row["Name"] for row in rows].index("Length unit")
        sheet.data_validation(at, 1, at, 1, {"validate": "list", "source": units})
    sheet.freeze_panes(1, 0)
    sheet.repeat_rows(0)
    sheet.autofilter(0, 0, max(len(rows), _FREE_ROWS if plan is not SAW else 1), len(headings) - 1)
    _set_up_page(sheet, landscape=True)


def _set_up_page(sheet: Any, *, landscape: bool) -> None:
    if landscape:
        sheet.set_landscape()
    sheet.set_paper(9)
    sheet.fit_to_pages(1, 0)
    sheet.set_margins(left=0.5, right=0.5, top=0.6, bottom=0.6)
    sheet.set_footer("&L&A&RPage &P of &N")


def _columns(plan: SheetPlan, rows: Sequence[Mapping[str, str]]) -> tuple[list[Column], list[str]]:
    """Give the columns to show, and the headings of the caller's own."""
    given = dict.fromkeys(heading for row in rows for heading in row)
    met = {heading: match_heading(plan, heading) for heading in given}
    used = {found[0].field for found in met.values() if found}
    rare = {"length_unit", *_RARE.get(plan.kind, ())}
    shown = [column for column in plan.columns if column.field not in rare or column.field in used]
    return shown, [heading for heading, found in met.items() if found is None]


def _with_unit(text: str, heading: str, column: Column | None) -> str:
    """Put a heading's unit behind a length that has none, since the template's heading has none."""
    unit = read_unit(heading) if column and column.length else None
    bare = not any(sign.isalpha() or sign in "'\"′″" for sign in text)
    return f"{text} {unit.value}" if unit and bare else text


def _saw_rows(rows: Mapping[str, Sequence[Mapping[str, str]]]) -> list[Mapping[str, str]]:
    """Give every line of the Saw sheet, with the values that are given and what each means."""
    given = {}
    for row in rows.get(SheetKind.SAW.value, ()):
        by_field = {
            found[0].field: text for heading, text in row.items() if (found := match_heading(SAW, heading))
        }
        given[plain_words(by_field.get("name", ""))] = by_field
    known = {**SAW_TEXTS, **SAW_LENGTHS, **GOAL_TEXTS, **BUYING_TEXTS}
    if unknown := set(given) - {plain_words(name) for name, _, _ in known.values()}:
        raise ValueError(f"No such saw value: {', '.join(sorted(unknown))}.")
    lines: list[Mapping[str, str]] = []
    for name, _, meaning in known.values():
        values = given.get(plain_words(name), {})
        lines.append(
            {
                "Name": name,
                "Value": values.get("value", ""),
                "Cover saw": values.get("cover", ""),
                "Meaning": meaning,
            }
        )
    return lines
