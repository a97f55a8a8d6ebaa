"""Lengths as texts, exact wherever the unit can say them exactly."""

from __future__ import annotations

from fractions import Fraction

from nesting.units.length import NM_PER_INCH, NM_PER_MM, Length, Unit

_INCHES_PER_FOOT = 12
_NM_PER_HUNDREDTH, _NM_PER_THOUSANDTH = NM_PER_MM // 100, NM_PER_MM // 1000


def mm_text(length: Length | int) -> str:
    """Give millimetres exactly, without unit, exponent or trailing zeros: ``1250.5``."""
    return _decimal(int(length), NM_PER_MM)


def near_mm_text(length: Length | int) -> str:
    """
    Give millimetres for people, without unit: ``1250.5``, ``~216.76``.

    What takes more than three decimals is rounded to a hundredth, half up, with ``~`` in front: nobody
    sets or measures finer, and a long number is misread. Documents for machines take `mm_text`.
    """
    if int(length) % _NM_PER_THOUSANDTH == 0:
        return mm_text(length)
    hundredths, finer = divmod(abs(int(length)), _NM_PER_HUNDREDTH)
    near = (hundredths + (2 * finer >= _NM_PER_HUNDREDTH)) * _NM_PER_HUNDREDTH
    return f"~{mm_text(-near if length < 0 else near)}"


def inch_text(length: Length | int, denominator: int = 64) -> str:
    """
    Give inches as a reduced fraction without unit: ``36 1/4``, ``7/16``, ``0``.

    Parameters
    ----------
    length
        Nanometres.
    denominator
        Finest division of the tape; a length between its marks is printed as the nearest mark,
        half up, with ``~`` in front.
    """
    marks, exact = _marks(int(length), denominator)
    sign = "-" if length < 0 else ""
    return ("" if exact else "~") + sign + _mixed(marks, denominator)


def length_text(length: Length | int, unit: Unit) -> str:
    """
    Give the length with its unit: ``1250 mm``, ``36 1/4 in``, ``3 ft 4 1/2 in``.

    What is printed without ``~`` reads back as the same length.
    """
    if unit.metric:
        return f"{_decimal(int(length), unit.nanometres)} {unit.value}"
    if unit is Unit.INCH:
        return f"{inch_text(length)} in"
    marks, exact = _marks(int(length), 64)
    feet, rest = divmod(marks, _INCHES_PER_FOOT * 64)
    sign = ("" if exact else "~") + ("-" if length < 0 else "")
    if not rest:
        return f"{sign}{feet} ft"
    return f"{sign}{feet} ft {_mixed(rest, 64)} in"


def _decimal(nanometres: int, per_unit: int) -> str:
    digits = len(str(per_unit)) - 1
    whole, rest = divmod(abs(nanometres), per_unit)
    text = f"{whole}.{rest:0{digits}d}".rstrip("0").rstrip(".")
    return f"-{text}" if nanometres < 0 else text


def _marks(nanometres: int, denominator: int) -> tuple[int, bool]:
    """Give the nearest whole number of tape marks, half up, and whether it is exact."""
    scaled = Fraction(abs(nanometres) * denominator, NM_PER_INCH)
    return (scaled + Fraction(1, 2)).__floor__(), scaled.denominator == 1


def _mixed(marks: int, denominator: int) -> str:
    whole, rest = divmod(marks, denominator)
    if not rest:
        return str(whole)
    part = Fraction(rest, denominator)
    fraction = f"{part.numerator}/{part.denominator}"
    return f"{whole} {fraction}" if whole else fraction
