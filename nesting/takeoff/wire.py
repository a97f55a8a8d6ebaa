"""Voltage drop along feed wires and along the strip, as planning aids."""

from __future__ import annotations

from fractions import Fraction

from nesting.domain.electrics import PLANNING_AID
from nesting.errors import Finding, ProblemError, Severity, Where
from nesting.takeoff.figures import figure
from nesting.takeoff.watts import NM_PER_M
from nesting.units import Length, Unit

_PER_1000_FEET = Fraction(10**9, 1000 * Unit.FOOT.nanometres)  # ohm per 1000 ft into ohm per metre
_PER_KILOMETRE = Fraction(1, 1000)

# Ohm per metre of one conductor of copper. Gauges: stranded, uncoated, 75 C (NFPA 70, Chapter 9,
# Table 8). Square millimetres: class 5, plain, 20 C (IEC 60228, Table 3). Both from copies of the tables;
# check against the bought standard before quoting.
CONDUCTORS = {
    "18 AWG": Fraction("7.95") * _PER_1000_FEET,
    "16 AWG": Fraction("4.99") * _PER_1000_FEET,
    "14 AWG": Fraction("3.14") * _PER_1000_FEET,
    "12 AWG": Fraction("1.98") * _PER_1000_FEET,
    "0.5 mm2": Fraction("39.0") * _PER_KILOMETRE,
    "0.75 mm2": Fraction("26.0") * _PER_KILOMETRE,
    "1 mm2": Fraction("19.5") * _PER_KILOMETRE,
    "1.5 mm2": Fraction("13.3") * _PER_KILOMETRE,
    "2.5 mm2": Fraction("7.98") * _PER_KILOMETRE,
}

WORTH_A_WARNING = Fraction(3, 100)  # of the supply voltage (common practice, no source)


def feed_drop(wire: Length, ohms_per_metre: Fraction, amperes: Fraction) -> Fraction:
    """
    Give the drop 2 l r I along a pair of feed wires, in volts, exactly.

    Parameters
    ----------
    wire
        Length one way (l), nanometres.
    ohms_per_metre
        Resistance of one conductor (r), see ``CONDUCTORS``.
    amperes
        Current (I): watts over volts.
    """
    return 2 * wire * ohms_per_metre * amperes / NM_PER_M


def drop_advice(
    run: str, *, wire: Length, conductor: str, watts: Fraction, volts: Fraction, where: Where
) -> Finding:
    """
    Give the feed wire's drop in volts and per cent; a warning above 3 %.

    Raises
    ------
    ProblemError
        When the conductor is none of ``CONDUCTORS``.
    """
    if conductor not in CONDUCTORS:
        raise ProblemError(f"Conductor {conductor!r} is not known; one of {', '.join(CONDUCTORS)}.")
    drop = feed_drop(wire, CONDUCTORS[conductor], watts / volts)
    share = drop / volts
    return Finding(
        severity=Severity.WARNING if share > WORTH_A_WARNING else Severity.NOTE,
        code="feed-wire-drop",
        where=where,
        found=run,
        message=f"{figure(watts, 'W')} at {figure(volts, 'V')} over "
        f"{figure(Fraction(wire, NM_PER_M), 'm')} of {conductor} drop {figure(drop, 'V')}, "
        f"{figure(100 * share, '%', 1)}. {PLANNING_AID}",
    )
