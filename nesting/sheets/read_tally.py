"""The sums of a list's lines, and the comparison with the totals people write under them."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from nesting.errors import LengthNotUnderstood
from nesting.sheets.cells import Cell, CellKind, Sheet
from nesting.sheets.findings import Findings
from nesting.units import Unit, length_text, read_length


@dataclass(slots=True)
class _Sums:
    quantity: int = 0
    length: int = 0
    metres: int = 0

    def add(self, quantity: int, length: int) -> None:
        self.quantity += quantity
        self.length += length
        self.metres += quantity * length


@dataclass(slots=True)
class Tally:
    """
    Sums since the last total, and from the top of the list.

    ``incomplete`` says that a line could not be read, so that no total can agree with them.
    """

    lines: int = 0
    incomplete: bool = False
    _part: _Sums = field(default_factory=_Sums)
    _whole: _Sums = field(default_factory=_Sums)

    def add(self, quantity: int, length: int) -> None:
        """Count one line."""
        self.lines += 1
        self._part.add(quantity, length)
        self._whole.add(quantity, length)

    def are_sums(self, quantity: Cell, length: Cell, unit: Unit | None) -> bool:
        """Tell whether two cells are our sums of quantities and of lengths, over two lines or more."""
        quantities = {str(self._part.quantity), str(self._whole.quantity)}
        return self.lines >= 2 and quantity.text in quantities and self._is_length_sum(length, unit)

    def _is_length_sum(self, length: Cell, unit: Unit | None) -> bool:
        try:
            read = read_length(length.raw, unit or Unit.MM, may_be_zero=True).length
        except LengthNotUnderstood:
            return False
        return read in {sums for part in (self._part, self._whole) for sums in (part.length, part.metres)}

    def compare(
        self,
        quantity: Cell | None,
        length: Cell | None,
        label: Cell | None,
        unit: Unit | None,
        sheet: Sheet,
        findings: Findings,
    ) -> None:
        """Compare a total row with our sums and note what came of it; the part starts afresh."""
        if self.incomplete:
            self._part = _Sums()
            return
        source = quantity or label
        said = re.search(r"[0-9]+", source.text.replace(",", "")) if source else None
        if source and said and (quantity or "total" in source.text.lower()):
            ours = (self._part.quantity, self._whole.quantity)
            shown = _sums_text(*(f"{count} fixtures or pieces" for count in ours))
            self._say(int(said.group()) in ours, source, shown, sheet, findings)
        if length is not None:
            here, whole = (length_text(sums.metres, Unit.MM) for sums in (self._part, self._whole))
            shown = _sums_text(here, whole)
            self._say(self._is_length_sum(length, unit), length, shown, sheet, findings)
        if source and source.kind is CellKind.UNCALCULATED:
            findings.warning(
                "total-not-compared",
                sheet.where(source),
                source.raw,
                "The total is a formula never computed.",
            )
        self._part = _Sums()

    def _say(self, agrees: bool, cell: Cell, ours: str, sheet: Sheet, findings: Findings) -> None:
        if agrees:
            findings.note(
                "total-agrees", sheet.where(cell), cell.raw, "The total agrees with the lines read."
            )
        elif cell.kind not in (CellKind.UNCALCULATED, CellKind.ERROR):
            findings.warning(
                "total-differs",
                sheet.where(cell),
                cell.raw,
                f"The lines read above it come to {ours}; look for a line missing, doubled, "
                "hidden or left out.",
            )


def _sums_text(part: str, whole: str) -> str:
    """Give our sums in words: since the last total and from the top, once where they are the same."""
    if part == whole or part.startswith("0 "):
        return whole
    return f"{part} since the last total and {whole} from the top"
