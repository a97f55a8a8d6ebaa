"""A length in both units, the shop's own first."""

from __future__ import annotations

from dataclasses import dataclass

from nesting.units import Length, Unit, length_text


@dataclass(frozen=True, slots=True)
class BothUnits:
    """
    Prints lengths in the shop's unit and in the other system's.

    Parameters
    ----------
    unit
        Unit of the shop's tape; the second is inches beside a metric one, else millimetres.
    """

    unit: Unit = Unit.MM

    def first(self, length: Length) -> str:
        """Give the length in the shop's unit."""
        return _unbroken(length_text(length, self.unit))

    def second(self, length: Length) -> str:
        """Give the length in the other unit; ``~`` in front of inches that lie between the marks."""
        return _unbroken(length_text(length, Unit.INCH if self.unit.metric else Unit.MM))

    def both(self, length: Length) -> str:
        """Give both, the second in brackets."""
        return f"{self.first(length)} ({self.second(length)})"


def _unbroken(text: str) -> str:
    """Keep a length on one line: half of one is a wrong length."""
    return text.replace(" ", "\N{NO-BREAK SPACE}")
