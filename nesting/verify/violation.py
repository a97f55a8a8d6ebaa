"""What the auditor found wrong, in the user's words."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal


@dataclass(frozen=True, slots=True, order=True)
class Violation:
    """
    One thing that is wrong with a plan.

    Parameters
    ----------
    code
        Stable kebab-case name, for programs (``face-position``).
    where
        Bar, piece, run, material or job it concerns: ``bar 17``, ``piece OY-305-2``.
    message
        What is wrong, with the figures, in plain words.
    """

    code: str
    where: str
    message: str

    def __str__(self) -> str:
        """Give one line for a terminal."""
        return f"{self.message} [{self.code}]"


def in_mm(nanometres: int) -> str:
    """Give millimetres exactly with their unit, at least one decimal, as read off a stop: ``1803.0 mm``."""
    text = format(Decimal(nanometres).scaleb(-6).normalize(), "f")
    return f"{text if '.' in text else f'{text}.0'} mm"


def in_money(amount: int) -> str:
    """Give ten-thousandths of the currency as an amount with at least two decimals."""
    text = format(Decimal(amount).scaleb(-4), ".4f")
    return text[:-2] if text.endswith("00") else text
