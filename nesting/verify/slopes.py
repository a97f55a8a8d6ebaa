"""
Tangents and secants bounded in rational arithmetic, by series of the auditor's own.

Partial sums of the alternating series of sine and cosine lie on either side of the true value; pi by
J. Machin's formula (1706), 16 arctan(1/5) - 4 arctan(1/239), likewise.
"""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache
from math import ceil

_TERMS = 24
_FINE = 10**40  # bounds are widened to this, so that fractions stay short

Bounds = tuple[Fraction, Fraction]


@lru_cache(maxsize=1024)
def tan_of(degrees: Fraction) -> Bounds:
    """Bound the tangent of a slope's size, 0 to 80 degrees; 0 and 45 are exact."""
    size = abs(degrees)
    if size in (0, 45):
        return Fraction(size != 0), Fraction(size != 0)
    (sin_low, sin_high), (cos_low, cos_high) = _sin_cos(size)
    return _widened(sin_low / cos_high, sin_high / cos_low)


@lru_cache(maxsize=1024)
def sec_of(degrees: Fraction) -> Bounds:
    """Bound one over the cosine of a slope's size, 0 to 80 degrees; 0 and 60 are exact."""
    size = abs(degrees)
    if size in (0, 60):
        return (Fraction(2), Fraction(2)) if size else (Fraction(1), Fraction(1))
    _, (cos_low, cos_high) = _sin_cos(size)
    return _widened(1 / cos_high, 1 / cos_low)


def lean(slope: Fraction) -> Bounds:
    """Bound the signed tangent of a slope."""
    low, high = tan_of(slope)
    return (-high, -low) if slope < 0 else (low, high)


def stroke_of(kerf: int, slope: Fraction) -> int:
    """Give what a stroke takes along the bar, k / cos mu, up to a whole nanometre."""
    return ceil(kerf * sec_of(slope)[1])


def tip_of(width: int, slope: Fraction) -> int:
    """Give how far a face's tip stands out beyond its middle, (w / 2) tan |mu|, up to a nanometre."""
    return ceil(Fraction(width, 2) * tan_of(slope)[1])


def gap_of(width: int, kerf: int, end: Fraction, start: Fraction) -> int:
    """Give the least gap on the centre line between two faces, up to a nanometre."""
    steepest = max(abs(end), abs(start))
    apart = Fraction(0)
    if end != start:
        one, other = lean(end), lean(start)
        apart = max(one[1] - other[0], other[1] - one[0])
    return ceil(Fraction(width, 2) * apart + kerf * sec_of(steepest)[1])


def _sin_cos(degrees: Fraction) -> tuple[Bounds, Bounds]:
    low, high = (bound * degrees / 180 for bound in _pi())
    # On 0 to 80 degrees sine grows and cosine falls.
    return (
        _widened(_series(low, odd=True)[0], _series(high, odd=True)[1]),
        _widened(_series(high, odd=False)[0], _series(low, odd=False)[1]),
    )


def _series(x: Fraction, *, odd: bool) -> Bounds:
    """Bound sine (odd powers) or cosine by two neighbouring partial sums."""
    total, power = Fraction(0), x if odd else Fraction(1)
    sums = []
    for n in range(_TERMS):
        total += power if n % 2 == 0 else -power
        sums.append(total)
        step = 2 * n + (2 if odd else 1)
        power = _rounded(power * x * x / (step * (step + 1)))
    return min(sums[-2:]) - Fraction(_TERMS, _FINE), max(sums[-2:]) + Fraction(_TERMS, _FINE)


@lru_cache(maxsize=1)
def _pi() -> Bounds:
    def arctan(inverse: int) -> Bounds:
        total, sums = Fraction(0), []
        for n in range(40):
            total += Fraction((-1) ** n, (2 * n + 1) * inverse ** (2 * n + 1))
            sums.append(total)
        return min(sums[-2:]), max(sums[-2:])

    fifth, other = arctan(5), arctan(239)
    return _widened(16 * fifth[0] - 4 * other[1], 16 * fifth[1] - 4 * other[0])


def _rounded(value: Fraction) -> Fraction:
    return Fraction(round(value * _FINE), _FINE)


def _widened(low: Fraction, high: Fraction) -> Bounds:
    return Fraction((low * _FINE).__floor__(), _FINE), Fraction(ceil(high * _FINE), _FINE)
