"""
What a worksheet's own XML says beyond its values: hidden rows, merged blocks, formulas never computed.

The streaming reader of the workbook library drops all three, and would walk to a cell in the last
row of the sheet; this pass meets such a cell first and refuses the file.
"""

from __future__ import annotations

import re
import zipfile
from dataclasses import dataclass
from xml.parsers import expat

from nesting.sheets.cells import Block, column_letters
from nesting.sheets.limits import Limits

_REFERENCE = re.compile(r"\$?([A-Z]{1,3})\$?([0-9]{1,7})")


class TooFar(Exception):
    """A sheet with more or further cells than are read; the text says which limit."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Marks:
    """Hidden rows by number, merged blocks, (row, column) of formulas without a value."""

    hidden: frozenset[int]
    blocks: tuple[Block, ...]
    uncalculated: frozenset[tuple[int, int]]


def read_marks(archive: zipfile.ZipFile, member: str, limits: Limits) -> Marks:
    """
    Read the marks of one worksheet part.

    Raises
    ------
    TooFar
        When a filled cell lies beyond the limits, or there are too many of them.
    """
    reader = _MarksReader(limits)
    parser = expat.ParserCreate(namespace_separator=" ")
    parser.StartElementHandler = reader.start
    parser.EndElementHandler = reader.end
    parser.CharacterDataHandler = reader.characters
    with archive.open(member) as part:
        while chunk := part.read(1 << 16):
            parser.Parse(chunk, False)
        parser.Parse(b"", True)
    return Marks(
        hidden=frozenset(reader.hidden),
        blocks=tuple(reader.blocks),
        uncalculated=frozenset(reader.uncalculated),
    )


def place(reference: str) -> tuple[int, int] | None:
    """Give row and column of an address such as ``C17``; None when it is none."""
    match = _REFERENCE.fullmatch(reference)
    if not match:
        return None
    column = 0
    for letter in match[1]:
        column = column * 26 + ord(letter) - ord("A") + 1
    return int(match[2]), column


class _MarksReader:
    """Expat's handlers over one worksheet."""

    def __init__(self, limits: Limits) -> None:
        self.limits = limits
        self.hidden: list[int] = []
        self.blocks: list[Block] = []
        self.uncalculated: list[tuple[int, int]] = []
        self._row = 0
        self._column = 0
        self._kind = ""
        self._formula = self._filled = self._inside = False
        self._cells = 0
        self._merged_rows = 0

    def start(self, name: str, attributes: dict[str, str]) -> None:
        tag = name.rpartition(" ")[2]
        if tag == "row":
            self._row = int(attributes.get("r", self._row + 1))
            self._column = 0
            if attributes.get("hidden") in ("1", "true"):
                self.hidden.append(self._row)
        elif tag == "c":
            met = place(attributes["r"]) if "r" in attributes else (self._row, self._column + 1)
            if met is None:
                raise TooFar(f"cell {attributes['r']!r} is no address")
            self._row, self._column = met
            self._kind = attributes.get("t", "n")
            self._formula = self._filled = False
        elif tag == "f":
            self._formula = True
        elif tag in ("v", "t"):
            self._inside = True
        elif tag == "mergeCell":
            self._merge(attributes.get("ref", ""))

    def characters(self, text: str) -> None:
        if self._inside and text.strip():
            self._filled = True

    def end(self, name: str) -> None:
        tag = name.rpartition(" ")[2]
        if tag in ("v", "t"):
            self._inside = False
        elif tag == "c":
            self._close_cell()

    def _close_cell(self) -> None:
        if self._filled or self._formula:
            self._cells += 1
            if self._row > self.limits.rows or self._column > self.limits.columns:
                at = f"{column_letters(self._column)}{self._row}"
                raise TooFar(f"cell {at}; {self.limits.rows} rows and {self.limits.columns} columns are read")
            if self._cells > self.limits.cells:
                raise TooFar(f"more than {self.limits.cells} filled cells")
        if self._formula and not self._filled and self._kind != "str":
            self.uncalculated.append((self._row, self._column))

    def _merge(self, reference: str) -> None:
        first, _, last = reference.partition(":")
        corners = place(first), place(last or first)
        if corners[0] is None or corners[1] is None or len(self.blocks) >= self.limits.rows:
            return
        (top, left), (bottom, right) = corners[0], corners[1]
        self._merged_rows += min(bottom, self.limits.rows) - top
        if self._merged_rows > 4 * self.limits.rows:
            raise TooFar("more merged rows than are read")
        self.blocks.append(Block(top=top, left=left, bottom=bottom, right=right))
