"""One line of the quality table, and the CSV file it is kept in."""

from __future__ import annotations

import csv
from collections.abc import Callable
from dataclasses import asdict, dataclass, fields
from pathlib import Path
from typing import Any


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


_READERS: dict[str, Callable[[str], Any]] = {
    "str": str,
    "int": int,
    "float": float,
    "bool": lambda text: text == "True",
    "int | None": lambda text: int(text) if text else None,
    "float | None": lambda text: float(text) if text else None,
}


def append(path: Path, row: Row) -> None:
    """Add one row to a CSV file at once, so that a broken run loses nothing that was measured."""
    fresh = not path.exists()
    path.parent.mkdir(parents=True, exist_ok=True)
    with path.open("a", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, [field.name for field in fields(Row)], lineterminator="\n")
        if fresh:
            writer.writeheader()
        writer.writerow(asdict(row))


def read(path: Path) -> tuple[Row, ...]:
    """Give the rows of a CSV file written by :func:`append`; none when there is no such file."""
    if not path.exists():
        return ()
    with path.open(encoding="utf-8", newline="") as file:
        return tuple(
            Row(**{field.name: _READERS[str(field.type)](line[field.name]) for field in fields(Row)})
            for line in csv.DictReader(file)
        )
