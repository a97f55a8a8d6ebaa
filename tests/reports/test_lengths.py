"""Both units on paper."""

from __future__ import annotations

from dataclasses import replace

import pytest

from nesting.domain.runs import Run
from nesting.domain.stock import StockLine
from nesting.reports.lengths import METRIC, BothUnits, first_unit
from nesting.units import Length, Unit, inches, mm
from tests.reports.plans import empty_plan


def test_the_shops_unit_comes_first() -> None:
    """A metric shop reads millimetres first, an inch shop inches, both see both."""
    length = inches("36 1/4")  # 36.25 x 25.4 = 920.75 mm
    metric, inch = BothUnits(Unit.MM), BothUnits(Unit.INCH)
    assert metric.both(length).replace("\N{NO-BREAK SPACE}", "_") == "920.75_mm (36_1/4_in)"
    assert inch.both(length).replace("\N{NO-BREAK SPACE}", "_") == "36_1/4_in (920.75_mm)"


def test_inches_between_the_marks_say_so() -> None:
    """610 mm lies between two marks of the tape: 24.0157 in, nearest 24 1/64."""
    assert BothUnits(Unit.MM).second(mm(610)) == "~24\N{NO-BREAK SPACE}1/64\N{NO-BREAK SPACE}in"


def test_feet_are_never_the_first_unit() -> None:
    """10 ft is one number too few at a stop: a tape in feet prints 120 in."""
    assert BothUnits(Unit.FOOT).first(inches(120)) == "120\N{NO-BREAK SPACE}in"


def test_a_sentence_says_inches_with_their_millimetres() -> None:
    """Millimetres are exact alone; inches may be rounded to a mark and never stand alone."""
    assert BothUnits(Unit.MM) == METRIC
    assert METRIC.said(mm(2500)) == "2500 mm"
    assert BothUnits(Unit.INCH).said(inches(120)) == "120 in (3048 mm)"
    assert BothUnits(Unit.INCH).figure(inches("36 1/4")) == "36 1/4"
    assert BothUnits(Unit.MM).figure(mm("1803.5")) == "1803.5"


@pytest.mark.parametrize(
    ("runs", "bars", "unit"),
    [
        ((inches("36 1/4"), inches(24)), (inches(120),), Unit.INCH),
        ((inches(36), inches(48)), (inches(120),), Unit.INCH),
        # 3810 mm and 2540 mm are 150 in and 100 in, whole in both: mm decide.
        ((mm(3810),), (mm(2540),), Unit.MM),
        # Bars of 2500 mm for openings in inches: not all input is in inches.
        ((inches("36 1/4"),), (mm(2500),), Unit.MM),
        ((mm("920.7"), inches("36 1/4")), (), Unit.MM),
        ((), (), Unit.MM),
    ],
)
def test_a_plan_has_one_first_unit(runs: tuple[Length, ...], bars: tuple[Length, ...], unit: Unit) -> None:
    """Whoever sets a stop reads the number and not the unit, so the unit never changes on the way."""
    plan = empty_plan()
    request = replace(
        plan.request,
        runs=tuple(Run(job="J", id=f"R{n}", family="F", length=length) for n, length in enumerate(runs)),
        stock=tuple(StockLine(family="F", finish="", length=length) for length in bars),
    )
    assert first_unit(request) is unit
    assert BothUnits.of(replace(plan, request=request)) == BothUnits(unit)
    assert BothUnits(unit).name == {Unit.MM: "mm", Unit.INCH: "inches"}[unit]
    assert BothUnits(unit).metric is (unit is Unit.MM)
