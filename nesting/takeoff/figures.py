"""Exact figures printed rounded, with their unit."""

from __future__ import annotations

from fractions import Fraction


def figure(value: Fraction, unit: str, places: int = 2) -> str:
    """Give a figure rounded half up to so many places, trailing zeros dropped: ``12.24 W``."""
    scale = 10**places
    scaled = (abs(value) * scale + Fraction(1, 2)).__floor__()
    whole, rest = divmod(scaled, scale)
    decimals = f".{rest:0{places}d}".rstrip("0").rstrip(".") if places else ""
    sign = "-" if value < 0 and scaled else ""
    return f"{sign}{whole}{decimals} {unit}".rstrip()
