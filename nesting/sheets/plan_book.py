"""The plan workbook's paper: one look, clean texts, exact numbers, page set-up; knows no plan."""

from __future__ import annotations

from io import BytesIO
from typing import Any, Final

import xlsxwriter

from nesting.money import PER_UNIT
from nesting.units import NM_PER_MM, Length, near_mm_text

INK: Final = "#22313A"  # nearly black: prints black
RULE: Final = "#B4BDC2"
SHADE: Final = "#E4E7E9"
_FONT: Final = "Arial"
_LONGEST_TEXT = 32_000  # a cell holds 32 767 characters
_FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r")
_A4 = 9
# Characters of the footer's type that fit across a page, with room for wide letters.
_ACROSS, _DOWN = 100, 68
_LONGEST_TITLE = 120


class Book:
    """
    A workbook under construction.

    Parameters
    ----------
    footer
        Short text printed at the foot of every page, beside sheet and page number.
    title
        Printed above it on a line of its own.
    """

    def __init__(self, footer: str, title: str = "") -> None:
        self._stream = BytesIO()
        self.workbook: Any = xlsxwriter.Workbook(
            self._stream,
            {
                "in_memory": True,
                "strings_to_formulas": False,
                "strings_to_urls": False,
                "strings_to_numbers": False,
                "default_format_properties": {"font_name": _FONT, "font_size": 10},
            },
        )
        self._foot, self._title = clean(footer), clean(title).replace("\n", " ")
        self._formats: dict[tuple[tuple[str, object], ...], Any] = {}

    def sheet(self, name: str, *, landscape: bool = True) -> Any:
        """Add a sheet set up for A4 with page numbers and the plan's name at its foot."""
        sheet = self.workbook.add_worksheet(name)
        if landscape:
            sheet.set_landscape()
        sheet.set_paper(_A4)
        sheet.set_margins(left=0.4, right=0.4, top=0.45, bottom=0.65)
        sheet.set_footer(self._footer(clean(name), _ACROSS if landscape else _DOWN), {"margin": 0.25})
        sheet.hide_gridlines(2)
        return sheet

    def _footer(self, name: str, characters: int) -> str:
        """Give the foot of a page; the title has a line of its own, so that it runs into nothing."""
        title, foot = self._title, _shortened(self._foot, characters // 2)
        # A footer of more than 255 characters makes the file unreadable for some programs.
        while len(_shortened(title, characters).replace("&", "&&")) > _LONGEST_TITLE:
            title = title[:-1]
        left = f"{_shortened(title, characters)}\n{foot}".replace("&", "&&")
        return f"&L&8{left}&C&8\n{name}&R&8\npage &P of &N"

    def style(self, **properties: Any) -> Any:
        """Give the cell style with these properties, made once."""
        key = tuple(sorted(properties.items()))
        if key not in self._formats:
            base = {"font_name": _FONT, "font_size": 10, "font_color": INK, "valign": "vcenter"}
            self._formats[key] = self.workbook.add_format(base | properties)
        return self._formats[key]

    def text(self, sheet: Any, row: int, column: int, said: str, **look: Any) -> None:
        """Write a text that stays a text, also when somebody edits the cell."""
        value = clean(said)
        if value:
            sheet.write_string(row, column, value, self.style(**_guarded(value, look)))
        else:
            sheet.write_blank(row, column, None, self.style(**look))

    def millimetres(
        self, sheet: Any, row: int, column: int, length: Length | int, *, unit: str = "", **look: Any
    ) -> None:
        """Write a length as a number of millimetres with just the decimals it needs."""
        style = self.style(num_format=mm_format(length, unit), **look)
        sheet.write_number(row, column, length / NM_PER_MM, style)

    def money(self, sheet: Any, row: int, column: int, amount: int, **look: Any) -> None:
        """Write an amount as a number with two decimals, or four where two would hide something."""
        picture = "0.00" if amount % 100 == 0 else "0.0000"
        sheet.write_number(row, column, amount / PER_UNIT, self.style(num_format=picture, **look))

    def number(self, sheet: Any, row: int, column: int, count: float, **look: Any) -> None:
        """Write a plain number."""
        sheet.write_number(row, column, count, self.style(**look))

    def band(self, sheet: Any, row: int, first: int, last: int, said: str, **look: Any) -> None:
        """Write a text over several columns of a row."""
        if first < last:
            sheet.merge_range(row, first, row, last, "", self.style(**_guarded(clean(said), look)))
        self.text(sheet, row, first, said, **look)

    def band_millimetres(
        self, sheet: Any, row: int, first: int, last: int, length: Length, *, unit: str = "", **look: Any
    ) -> None:
        """Write a length over several columns of a row."""
        sheet.merge_range(row, first, row, last, "", self.style(num_format=mm_format(length, unit), **look))
        self.millimetres(sheet, row, first, length, unit=unit, **look)

    def finish(self) -> bytes:
        """Close the book and give the file's bytes."""
        self.workbook.close()
        return self._stream.getvalue()


def _shortened(said: str, characters: int) -> str:
    return said if len(said) <= characters else f"{said[: characters - 1]}…"


def clean(said: str) -> str:
    """
    Give a text that a cell can hold.

    Tabs and carriage returns become spaces, line ends stay; other control characters and half
    characters, which no workbook may carry, become the replacement mark, so that nothing vanishes unseen.
    """
    spaced = said.translate({9: " ", 13: " "})
    kept = "".join(c if _storable(c) else "\ufffd" for c in spaced)
    return kept if len(kept) <= _LONGEST_TEXT else kept[:_LONGEST_TEXT] + "…"


def mm_format(length: Length | int, unit: str = "") -> str:
    """
    Give the number format that shows a length in millimetres as people read it, with a unit if wanted.

    Up to three decimals stand as they are, more are shown as hundredths; the cell holds the exact length.
    """
    decimals = len(near_mm_text(length).partition(".")[2])
    return ("0." + "0" * decimals if decimals else "0") + (f'" {unit}"' if unit else "")


def rows_needed(said: str, characters: int) -> int:
    """Estimate how many lines a text takes in a band that holds so many characters a line."""
    return sum(_lines_of(line, characters) for line in said.split("\n"))


def _lines_of(said: str, characters: int) -> int:
    lines, used = 1, 0
    for word in said.split():
        if used and used + 1 + len(word) > characters:
            lines, used = lines + 1, 0
        used += len(word) + (1 if used else 0)
        lines, used = lines + used // (characters + 1), used % (characters + 1)
    return lines


def _guarded(value: str, look: dict[str, Any]) -> dict[str, Any]:
    """Add the mark that keeps a text a text when somebody edits the cell."""
    return look | {"quote_prefix": True} if value.startswith(_FORMULA_STARTS) else look


def _storable(character: str) -> bool:
    code = ord(character)
    return code == 10 or (
        code >= 0x20
        and not 0x7F <= code <= 0x9F
        and not 0xD800 <= code <= 0xDFFF
        and code not in (0xFFFE, 0xFFFF)
    )
