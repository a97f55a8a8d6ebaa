"""One timed task and its table."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from benchmarks import machine


@dataclass(frozen=True, slots=True, kw_only=True)
class Timing:
    """
    What one task took.

    Parameters
    ----------
    task
        What was done, in words.
    seconds
        Wall clock of each repeat, in order; empty when the task could not be run.
    peak_mib
        Most memory of the measured process in any repeat, MiB; children not included.
    all_mib
        Most memory of the process with all that it started, shared pages once, MiB; 0 when not measured.
    note
        What came out, or why the task was not run.
    """

    task: str
    seconds: tuple[float, ...] = ()
    peak_mib: int = 0
    all_mib: int = 0
    note: str = ""

    @property
    def median(self) -> float | None:
        """Middle repeat in seconds, the slower of the two middle ones for an even number."""
        return sorted(self.seconds)[len(self.seconds) // 2] if self.seconds else None


def markdown(timings: Iterable[Timing]) -> str:
    """Give the table of some tasks."""
    lines = [
        f"Revision {machine.revision(('nesting',))}; {machine.processor()}; load average {machine.load()}. "
        "Wall-clock seconds; 'MiB' is the peak of the measured process alone, 'MiB in all' that of all its "
        "processes together, shared pages counted once.",
        "",
        "| task | median s | fastest s | slowest s | repeats | MiB | MiB in all | outcome |",
        "|" + " --- |" * 8,
    ]
    for timing in timings:
        if timing.seconds:
            cells = [f"{timing.median:.3f}", f"{min(timing.seconds):.3f}", f"{max(timing.seconds):.3f}"]
        else:
            cells = ["-", "-", "-"]
        cells += [
            str(len(timing.seconds)),
            str(timing.peak_mib or "-"),
            str(timing.all_mib or "-"),
            timing.note or "-",
        ]
        lines.append(f"| {timing.task} | " + " | ".join(cells) + " |")
    return "\n".join(lines) + "\n"
