"""Both units on paper."""

from __future__ import annotations

from nesting.paper.lengths import BothUnits
from nesting.units import Unit, inches, mm


def test_the_shops_unit_comes_first() -> None:
    """A metric shop reads millimetres first, an inch shop inches, both see both."""
    length = inches("36 1/4")  # 36.25 x 25.4 = 920.75 mm
    metric, inch = BothUnits(Unit.MM), BothUnits(Unit.INCH)
    assert metric.both(length).replace("\N{NO-BREAK SPACE}", "_") == "920.75_mm (36_1/4_in)"
    assert inch.both(length).replace("\N{NO-BREAK SPACE}", "_") == "36_1/4_in (920.75_mm)"


def test_inches_between_the_marks_say_so() -> None:
    """610 mm lies between two marks of the tape: 24.0157 in, nearest 24 1/64."""
    assert BothUnits(Unit.MM).second(mm(610)) == "~24\N{NO-BREAK SPACE}1/64\N{NO-BREAK SPACE}in"
