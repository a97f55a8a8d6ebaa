"""A length in both units, the plan's own first; which unit that is, is decided here for a whole plan."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from nesting.domain.plan import Plan
from nesting.domain.request import Request
from nesting.units import NM_PER_INCH, NM_PER_MM, Length, Unit, inch_text, length_text, near_mm_text

_MARK = NM_PER_INCH // 64


@dataclass(frozen=True, slots=True)
class BothUnits:
    """
    Prints lengths in the plan's unit and in the other system's.

    Parameters
    ----------
    unit
        Unit of the shop's tape, inches for feet; the second is inches beside a metric one, else
        millimetres.
    """

    unit: Unit = Unit.MM

    @classmethod
    def of(cls, plan: Plan) -> BothUnits:
        """Give the units of a plan, the same for every line of it."""
        return cls(first_unit(plan.request))

    @property
    def name(self) -> str:
        """Give the first unit as a word: ``mm``, ``inches``."""
        return self.unit.value if self.unit.metric else "inches"

    @property
    def metric(self) -> bool:
        """Whether the first unit counts in tens."""
        return self.unit.metric

    def first(self, length: Length | int) -> str:
        """Give the length in the plan's unit."""
        return _unbroken(_text(length, self._first))

    def second(self, length: Length | int) -> str:
        """Give the length in the other unit; ``~`` in front of inches that lie between the marks."""
        return _unbroken(_text(length, Unit.INCH if self.unit.metric else Unit.MM))

    def both(self, length: Length | int) -> str:
        """Give both, the second in brackets; the first alone where the second has no mark for so little."""
        second = self.second(length)
        return (
            self.first(length)
            if second.startswith("~0\N{NO-BREAK SPACE}")
            else f"{self.first(length)} ({second})"
        )

    def said(self, length: Length | int) -> str:
        """
        Give the length for a sentence: ``2500 mm``, or ``120 in (3048 mm)``.

        Millimetres stand alone; inches may be rounded to a mark and never do.
        """
        text = _text(length, self._first)
        return text if self.unit.metric else f"{text} ({near_mm_text(length)} mm)"

    def figure(self, length: Length | int) -> str:
        """Give the number alone, for pictures that name the unit once; in mm for a metric tape."""
        return near_mm_text(length) if self.unit.metric else inch_text(length)

    @property
    def _first(self) -> Unit:
        # Feet and inches together are two numbers, and one of them is soon read for the whole.
        return self.unit if self.unit.metric else Unit.INCH


METRIC = BothUnits()


def first_unit(request: Request) -> Unit:
    """
    Give the unit in which a whole plan is said: millimetres, or inches when all that came in was inches.

    A plan says its big lengths in one unit from the first line to the last, because whoever sets a stop
    reads the number and not the unit. Lengths do not remember how they were written, but their
    values do: all on a mark of 1/64 in, and not all whole millimetres, comes about in inches
    only. Lengths that are both, multiples of 5 in = 127 mm, decide nothing; then mm are exact.
    """
    lengths = tuple(_given(request))
    on_marks = all(length % _MARK == 0 for length in lengths)
    return Unit.INCH if on_marks and any(length % NM_PER_MM for length in lengths) else Unit.MM


def _given(request: Request) -> Iterator[Length]:
    yield from (run.length for run in request.runs)
    yield from (line.length for line in request.piece_lines)
    yield from (bar.length for bar in request.stock)


def _text(length: Length | int, unit: Unit) -> str:
    """Give a length with its unit, millimetres as fine as people read them."""
    return f"{near_mm_text(length)} mm" if unit is Unit.MM else length_text(length, unit)


def _unbroken(text: str) -> str:
    """Keep a length on one line: half of one is a wrong length."""
    return text.replace(" ", "\N{NO-BREAK SPACE}")
