"""What a column and a kind of sheet are made of."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class SheetKind(StrEnum):
    """The sheets a workbook may hold, by their own names."""

    RUNS = "Runs"
    PIECES = "Pieces"
    FAMILIES = "Families"
    STOCK = "Stock"
    OFFCUTS = "Offcuts"
    SAW = "Saw"


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """
    One column of one kind of sheet.

    Parameters
    ----------
    field
        Name of the value it carries.
    heading
        Heading in the template; cannot be mistaken for another column's.
    accepts, weak
        Other headings with the same meaning, in plain lower case.
    choices
        Texts its drop-down offers; empty when anything goes.
    length, money
        Whether its cells are lengths, or amounts of money.
    width
        Width in the template, in characters.
    hint
        What to put in, for the guide; empty when the heading says it.
    """

    field: str
    heading: str
    accepts: tuple[str, ...] = ()
    weak: tuple[str, ...] = ()
    choices: tuple[str, ...] = ()
    length: bool = False
    money: bool = False
    width: int = 12
    hint: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetPlan:
    """One kind of sheet: its columns, the fields it cannot do without, other names for its tab."""

    kind: SheetKind
    columns: tuple[Column, ...]
    needs: tuple[str, ...]
    tabs: tuple[str, ...] = ()

    def column(self, field: str) -> Column:
        """Give the first column that carries a field."""
        return next(column for column in self.columns if column.field == field)
