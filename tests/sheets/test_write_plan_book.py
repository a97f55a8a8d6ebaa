from __future__ import annotations

from io import BytesIO

import openpyxl
import pytest

from nesting.sheets.plan_book import Book, clean, mm_format, rows_needed
from nesting.sheets.plan_list import Column, Kind, write_list
from nesting.units import inches, mm


@pytest.mark.parametrize(
    ("raw", "kept"),
    [
        ("plain ½ ″ text", "plain ½ ″ text"),
        ("a\tb\rc\nd", "a b c\nd"),
        ("a\x00b\x1fc\x7fd\x9fe", "a\ufffdb\ufffdc\ufffdd\ufffde"),
        ("half \udc80 end \uffff", "half \ufffd end \ufffd"),
    ],
)
def test_clean_keeps_what_a_cell_can_hold(raw: str, kept: str) -> None:
    """Nothing vanishes unseen and nothing breaks the file."""
    assert clean(raw) == kept


def test_a_text_longer_than_a_cell_is_cut_with_a_mark() -> None:
    """A cell holds 32 767 characters; a longer text would be dropped whole."""
    assert clean("x" * 40_000) == "x" * 32_000 + "…"


def test_formats_have_the_decimals_a_length_needs() -> None:
    """1/64 in is 0.396875 mm, read as 0.4: nobody sets a stop finer than a hundredth."""
    assert mm_format(mm(1250)) == "0"
    assert mm_format(inches("3/8")) == "0.000"  # 9.525
    assert mm_format(inches("1/64"), "mm") == '0.0" mm"'


def test_rows_needed_wraps_words() -> None:
    """Ten characters hold two words of four; a word of twenty-five takes three lines of its own."""
    assert rows_needed("aaaa bbbb", 10) == 1
    assert rows_needed("aaaa bbbb cccc", 10) == 2
    assert rows_needed("x" * 25, 10) == 3
    assert rows_needed("", 10) == 1
    assert rows_needed("aaaa\nbbbb cccc dddd", 10) == 3


@pytest.mark.parametrize("text", ["=1+1", "+1", "-1/2", "@x"])
def test_texts_like_formulas_are_marked_as_texts(text: str) -> None:
    """The mark holds when somebody edits the cell, alone or merged."""
    book = Book("foot")
    sheet = book.sheet("S")
    book.text(sheet, 0, 0, text)
    book.band(sheet, 1, 0, 3, text)
    read = openpyxl.load_workbook(BytesIO(book.finish()))["S"]
    for cell in (read["A1"], read["A2"]):
        assert (cell.value, cell.data_type, cell.quotePrefix) == (text, "s", True)


def test_a_list_writes_each_kind_as_its_column_asks() -> None:
    """Numbers stay numbers, missing values stay empty, headings carry the filter."""
    book = Book("foot")
    kinds = (Kind.TEXT, Kind.COUNT, Kind.MM, Kind.INCH, Kind.METRE, Kind.MONEY, Kind.SHARE)
    columns = [Column(kind.value, 10, kind) for kind in kinds]
    length = int(inches("36 1/4"))
    rows = [("a", 2, length, length, 1_500_000_000, 114_001, 0.25), (None,) * 7]
    write_list(book, "L", "Title", "Guide.", columns, rows)
    sheet = openpyxl.load_workbook(BytesIO(book.finish()))["L"]
    assert [c.value for c in sheet[4]] == ["a", 2, 920.75, "36 1/4", 1.5, 11.4001, 0.25]
    assert [c.number_format for c in sheet[4]][2:] == ["0.00", "General", "0.000", "0.0000", "0.0%"]
    assert [c.value for c in sheet[5]] == [None] * 7
    assert (sheet.auto_filter.ref, sheet["A1"].value, sheet["A2"].value) == ("A3:G5", "Title", "Guide.")


def test_long_texts_make_their_row_higher() -> None:
    """A reason is read whole on paper: 60 characters need five lines of a narrow column."""
    book = Book("foot")
    write_list(book, "L", "Title", "Guide.", [Column("reason", 14)], [("twelve chars " * 5,), ("short",)])
    sheet = openpyxl.load_workbook(BytesIO(book.finish()))["L"]
    assert sheet.row_dimensions[4].height == pytest.approx(2 + 13 * 5, abs=0.75)  # whole pixels
    assert sheet.row_dimensions[5].height is None  # the sheet's own 15 points
    assert sheet["A4"].alignment.wrap_text
