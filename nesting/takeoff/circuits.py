"""Circuits of one run's strip: how many, and where it is cut."""

from __future__ import annotations

from fractions import Fraction

from nesting.domain.electrics import PLANNING_AID, Feed
from nesting.errors import Finding, ProblemError, Severity, Where
from nesting.takeoff.figures import figure
from nesting.takeoff.watts import NM_PER_M
from nesting.units import Length


def circuits_of(marks: int, pitch: Fraction, longest: Length | None) -> tuple[int, ...]:
    """
    Divide a strip into the fewest circuits, as even as whole marks allow, the longer ones first.

    S <= longest stays one circuit; else there are ceil(m / q) with q = floor(longest / p), since a
    circuit ends on a cut mark.

    Parameters
    ----------
    marks
        Marks of the whole strip (m).
    pitch
        Distance between cut marks (p), nanometres.
    longest
        Longest circuit for the way it is fed; None never divides.

    Returns
    -------
    Marks of each circuit from the left; they add up to ``marks``; empty for no strip.

    Raises
    ------
    ProblemError
        When the longest circuit is shorter than one mark.
    """
    if marks <= 0:
        return ()
    most = marks if longest is None else int(longest // pitch)
    if most < 1:
        raise ProblemError("The longest circuit is shorter than the distance between cut marks.")
    count = -(-marks // most)
    share, rest = divmod(marks, count)
    return (*[share + 1] * rest, *[share] * (count - rest))


def circuit_advice(
    run: str,
    marks: int,
    pitch: Fraction,
    *,
    feed: Feed,
    one_end: Length | None,
    both_ends: Length | None,
    where: Where,
) -> Finding | None:
    """
    Say what a strip longer than its longest circuit needs; None when it is one circuit.

    Feeding both ends is offered where the data sheet allows the whole strip that way.

    Parameters
    ----------
    marks, pitch
        Marks of the whole strip and their distance, nanometres.
    one_end, both_ends
        Longest circuit fed from one end, and from both; None when the data sheet says nothing.
    """
    parts = circuits_of(marks, pitch, both_ends if feed.ends_fed == 2 else one_end)
    if len(parts) < 2:
        return None
    strip = marks * pitch
    lengths = ", ".join(figure(part * pitch / NM_PER_M, "m", 3) for part in parts)
    reaches = feed is not Feed.BOTH and both_ends is not None and strip <= both_ends
    offer = " or feed both ends" if reaches else ""
    return Finding(
        severity=Severity.WARNING,
        code="strip-past-longest-circuit",
        where=where,
        found=run,
        message=f"{figure(strip / NM_PER_M, 'm', 3)} of strip is more than one circuit: divide it at cut "
        f"marks into {len(parts)} ({lengths}){offer}. {PLANNING_AID}",
    )
