"""Watts of strip and what they ask of a driver: advice with its caution, never a design."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from nesting.domain.electrics import PLANNING_AID, StripKind
from nesting.errors import Finding, ProblemError, Severity, Where
from nesting.takeoff.figures import figure
from nesting.units import NM_PER_MM, Length

NM_PER_M = 1000 * NM_PER_MM

# Share of a driver's rating that is planned on (common practice, no source); P / 0.8 is 25 % more
# than P, not the 20 % more that is often said for it.
LOADING = Fraction(4, 5)

# Class 2 power sources: 60 W at 12 V; at 24 V the limit is 100 VA and 96 W are sold. UL 1310 and
# NFPA 70 Article 725 with Chapter 9 Table 11, both as quoted by the trade; check before quoting.
CLASS_2_WATTS = {Fraction(12): Fraction(60), Fraction(24): Fraction(96)}


def strip_watts(strip: Length, watts_per_metre: Fraction) -> Fraction:
    """Give the load P = S q of a length of strip, in watts, exactly."""
    return strip * watts_per_metre / NM_PER_M


def driver_watts(load: Fraction, loading: Fraction = LOADING) -> Fraction:
    """Give the least rating of a driver, P / loading, in watts."""
    return load / loading


def longest_strip(source: Fraction, watts_per_metre: Fraction, loading: Fraction = Fraction(1)) -> Length:
    """
    Give the longest strip that a source carries, rounded down to a nanometre.

    Parameters
    ----------
    source
        Rating of the source, watts.
    loading
        Share of it that is used; 1 for the limit, `LOADING` for planning.
    """
    return Length(int(source * loading * NM_PER_M / watts_per_metre))


@dataclass(frozen=True, slots=True)
class DriverZone:
    """
    Circuits that share one driver output.

    Parameters
    ----------
    circuits
        Positions in the list given, ascending.
    watts
        Their load.
    """

    circuits: tuple[int, ...]
    watts: Fraction


def driver_zones(
    loads: Iterable[Fraction], source: Fraction, loading: Fraction = LOADING
) -> tuple[DriverZone, ...]:
    """
    Share circuits out on driver outputs, largest first to the first with room.

    A suggestion, not proved least; the designer groups by place and switching. First fit decreasing
    never takes more than 11/9 of the least and 6/9 (Dosa, ESCAPE 2007).

    Parameters
    ----------
    loads
        Watts of each circuit.
    source
        Rating of one output, watts.

    Raises
    ------
    ProblemError
        When a circuit alone is more than an output may carry.
    """
    room = source * loading
    zones: list[tuple[list[int], Fraction]] = []
    for number, load in sorted(enumerate(loads), key=lambda item: (-item[1], item[0])):
        if load > room:
            raise ProblemError(
                f"Circuit {number + 1} takes {figure(load, 'W')}; an output carries {figure(room, 'W')}."
            )
        at = next((i for i, (_, taken) in enumerate(zones) if taken + load <= room), None)
        if at is None:
            zones.append(([number], load))
        else:
            zones[at] = ([*zones[at][0], number], zones[at][1] + load)
    return tuple(DriverZone(tuple(sorted(circuits)), watts) for circuits, watts in zones)


def driver_advice(run: str, strip: Length, kind: StripKind, where: Where) -> Finding:
    """
    Give the watts of a run and the least driver as a note; a warning past the Class 2 limit.

    Parameters
    ----------
    run
        Id of the run, for the message.
    strip
        Strip of one fixture, nanometres.
    """
    load = strip_watts(strip, kind.watts_per_metre)
    driver = driver_watts(load)
    said = f"{figure(load, 'W')} of strip, driver of at least {figure(driver, 'W')} (loaded to 80 %)."
    limit = CLASS_2_WATTS.get(kind.volts)
    over = limit is not None and driver > limit
    if over and limit is not None:
        carried = figure(Fraction(longest_strip(limit, kind.watts_per_metre, LOADING), NM_PER_M), "m")
        said += (
            f" A Class 2 source of {figure(kind.volts, 'V')} gives {figure(limit, 'W')}, which carries "
            f"{carried} at that loading: divide the run into circuits."
        )
    return Finding(
        severity=Severity.WARNING if over else Severity.NOTE,
        code="class-2-exceeded" if over else "driver-advice",
        where=where,
        found=run,
        message=f"{said} {PLANNING_AID}",
    )
