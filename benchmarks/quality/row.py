"""One line of the quality table."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """
    What one run on one case gave, with everything needed to run it again.

    Parameters
    ----------
    lengths, pieces
        Distinct lengths and pieces of the case.
    bound, value
        Proven lower bound and the value of the plan by our own check; None when there is no sound plan.
    gap
        (value - bound) / value; None without a value.
    against
        ``equal``, ``better`` or ``worse`` than ``best_known``, or ``unknown``.
    proved
        Whether the bound meets the value.
    seconds, cpu_seconds
        Wall clock and processor time of the solve alone.
    peak_mib
        Most memory held by the process during the solve, MiB.
    ended
        Why the run stopped, or what went wrong.
    time_limit
        Wall-clock limit in seconds.
    warm
        Whether the process had solved other cases before.
    load
        One-minute load average when the run ended.
    """

    case_class: str
    series: str
    name: str
    lengths: int
    pieces: int
    bound: int | None
    value: int | None
    gap: float | None
    best_known: int | None
    against: str
    proved: bool
    seconds: float
    cpu_seconds: float
    peak_mib: int
    ended: str
    time_limit: float
    seed: int
    warm: bool
    revision: str
    processor: str
    load: float

    @property
    def key(self) -> tuple[str, str, str, float, int]:
        """What makes two rows the same measurement: class, name, revision, limit and seed."""
        return (self.case_class, self.name, self.revision, self.time_limit, self.seed)
