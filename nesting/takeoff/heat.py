"""How far cover and channel grow apart with heat: shown and warned of, never cut off silently."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from nesting.units import NO_LENGTH, Length, mm

# Per kelvin. Aluminium 6063, 20 to 100 C: Aluminum Association typical value, an alloy digest of
# 2005. Polycarbonate: installation pages of two sheet makers. Handbooks
# differ by twice: take the cover's own data sheet.
ALUMINIUM = Fraction(234, 10**7)
POLYCARBONATE = Fraction(65, 10**6)

WORTH_A_WARNING = mm(2)  # common practice, no source


def growth(length: Length, per_kelvin: Fraction, kelvin: Fraction) -> Length:
    """Give how far a length grows (shrinks, when negative), alpha A dT, to the nearest nanometre."""
    return Length(round(length * per_kelvin * kelvin))


def thermal_gap(
    length: Length, kelvin: Fraction, *, cover: Fraction = POLYCARBONATE, channel: Fraction = ALUMINIUM
) -> Length:
    """
    Give how far the cover outgrows its channel, (alpha_cover - alpha_Al) A dT.

    Parameters
    ----------
    length
        Channel length (A), nanometres.
    kelvin
        Temperature over that at cutting; negative for colder, which opens a gap.
    cover, channel
        Expansion of both, per kelvin.
    """
    return growth(length, cover - channel, kelvin)


@dataclass(frozen=True, slots=True)
class CoverPlay:
    """
    The play a cover would want, for showing.

    Parameters
    ----------
    wanted
        Play that leaves room when hot, g = D(T_max - T_cut) + fit; nanometres.
    cold_gap
        What then stands open when cold, D(T_cut - T_min) + g.
    """

    wanted: Length
    cold_gap: Length


def cover_play(
    length: Length,
    *,
    hotter: Fraction,
    colder: Fraction,
    fit: Length = NO_LENGTH,
    cover: Fraction = POLYCARBONATE,
    channel: Fraction = ALUMINIUM,
) -> CoverPlay:
    """
    Give the play a cover would want and the gap it leaves in the cold.

    Parameters
    ----------
    hotter, colder
        Kelvin above and below the temperature at cutting, both positive.
    fit
        Play for fitting (common practice, no source).
    """
    wanted = thermal_gap(length, hotter, cover=cover, channel=channel) + fit
    cold = -thermal_gap(length, -colder, cover=cover, channel=channel)
    return CoverPlay(Length(wanted), Length(cold + wanted))
