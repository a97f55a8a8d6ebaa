"""What the command line or a caller says about a list beyond the file itself."""

from __future__ import annotations

from dataclasses import dataclass

from nesting.money import Money
from nesting.sheets.corrections import Correction
from nesting.sheets.read_currency import Named
from nesting.units import Length, Unit


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadOptions:
    """
    Values that stand above the workbook's own.

    Parameters
    ----------
    unit
        Unit of lengths that have none in the cell, the heading or the title block.
    job
        Job of lines that name none.
    kerf, head_trim, tail_loss, keep_length, grip, step
        Saw allowances in place of the Saw sheet's; None keeps the sheet's.
    bars
        Quick stock: (length, price) of bars offered to every material of the list that has no stock
        line of its own; a price of None means unknown.
    currency
        ISO 4217 code in place of the Saw sheet's.
    named
        Currencies named with the prices of ``bars``.
    corrections
        Cells of the list that count as something else than what stands in the file.
    """

    unit: Unit | None = None
    job: str = ""
    kerf: Length | None = None
    head_trim: Length | None = None
    tail_loss: Length | None = None
    keep_length: Length | None = None
    grip: Length | None = None
    step: Length | None = None
    bars: tuple[tuple[Length, Money | None], ...] = ()
    currency: str = ""
    named: tuple[Named, ...] = ()
    corrections: tuple[Correction, ...] = ()


NO_OPTIONS = ReadOptions()
