"""Cells as the reader met them, whatever the file format, with the address its user sees."""

from __future__ import annotations

import datetime
import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from functools import lru_cache

from nesting.errors import Where


class CellKind(StrEnum):
    """What a cell holds."""

    EMPTY = "empty"
    TEXT = "text"
    NUMBER = "number"
    DATE = "date"
    BOOLEAN = "boolean"
    ERROR = "error"
    UNCALCULATED = "uncalculated"


_ERRORS = ("#ref!", "#n/a", "#name?", "#value!", "#div/0!", "#num!", "#null!", "#spill!", "#calc!")
_ADDRESS = re.compile(r"(?P<column>[A-Z]{1,3})(?P<row>[1-9][0-9]{0,6})")
_SPACES = re.compile(r"[\s\u00a0\u2000-\u200b\u202f\u205f\u3000\ufeff]+")


@lru_cache(maxsize=4096)  # a list says the same few words thousands of times
def plain_spaces(text: str) -> str:
    """Give a text with single plain spaces, whatever kinds of space it came with."""
    return _SPACES.sub(" ", text).strip()


def column_letters(column: int) -> str:
    """Give a column number, 1 for A, in letters."""
    letters = ""
    while column:
        column, rest = divmod(column - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters


def cell_position(at: str) -> tuple[int, int] | None:
    """Give row and column, from 1, of an address such as ``C17``; None when it is none."""
    match = _ADDRESS.fullmatch(at)
    if match is None:
        return None
    column = 0
    for letter in match["column"]:
        column = 26 * column + ord(letter) - ord("A") + 1
    return int(match["row"]), column


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """
    One cell.

    Parameters
    ----------
    row, column
        From 1.
    raw
        What stands in it, as a text.
    day
        The date of a date cell; None for a time of day.
    struck, coloured
        Whether it is struck through, or filled with a colour.
    """

    row: int
    column: int
    kind: CellKind = CellKind.EMPTY
    raw: str = ""
    day: datetime.date | None = None
    struck: bool = False
    coloured: bool = False

    @property
    def at(self) -> str:
        """Address as the user sees it: ``C17``."""
        return f"{column_letters(self.column)}{self.row}"

    @property
    def text(self) -> str:
        """What stands in it with plain single spaces."""
        return plain_spaces(self.raw)

    @property
    def filled(self) -> bool:
        """Whether anything stands in it."""
        return self.kind is not CellKind.EMPTY


def text_cell(row: int, column: int, raw: str, *, struck: bool = False, coloured: bool = False) -> Cell:
    """Give the cell of a text: empty when blank, an error when it is a spreadsheet's error value."""
    plain = plain_spaces(raw)
    kind = CellKind.ERROR if plain.lower() in _ERRORS else CellKind.TEXT if plain else CellKind.EMPTY
    return Cell(row=row, column=column, kind=kind, raw=raw.strip(), struck=struck, coloured=coloured)


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One row: its filled cells by column number."""

    number: int
    cells: Mapping[int, Cell]
    hidden: bool = False

    def cell(self, column: int) -> Cell:
        """Give the cell of a column, empty when nothing stands there."""
        return self.cells.get(column) or Cell(row=self.number, column=column)

    @property
    def struck(self) -> bool:
        """Whether every filled cell is struck through."""
        return bool(self.cells) and all(cell.struck for cell in self.cells.values())

    @property
    def raw(self) -> str:
        """The row as one text."""
        return " | ".join(cell.text for _, cell in sorted(self.cells.items()))


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """A merged range of cells, numbered from 1, ends included."""

    top: int
    left: int
    bottom: int
    right: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """
    One sheet of a workbook, or a whole CSV file.

    Parameters
    ----------
    name
        Tab or file name, the source of every finding in it.
    rows
        Rows with anything in them, top down.
    """

    name: str
    rows: tuple[Row, ...]
    blocks: tuple[Block, ...] = field(default=())
    hidden: bool = False

    def where(self, at: Cell | str = "") -> Where:
        """Give the place of a cell of this sheet."""
        return Where(self.name, at.at if isinstance(at, Cell) else at)
