"""The quality suite: choose cases, skip what is done, measure, write CSV and Markdown."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from benchmarks import machine, rows
from benchmarks.case import Case, CaseClass, evenly
from benchmarks.engine import Engine, ours
from benchmarks.quality.measure import measure
from benchmarks.quality.published import published_runs
from benchmarks.quality.row import Row
from benchmarks.quality.table import markdown


def run_quality(
    classes: tuple[CaseClass, ...],
    *,
    instances: Path,
    out: Path,
    time_limit: float,
    sample: int | None = None,
    resume: bool = False,
    fresh: bool = False,
    seed: int = 1,
    engine: Engine = ours,
    revision: str | None = None,
    say: Callable[[str], None] = lambda text: None,
) -> tuple[Row, ...]:
    """
    Measure every chosen case and leave ``quality_<class>.csv`` and ``quality.md`` in ``out``.

    Parameters
    ----------
    sample
        About how many cases of each class, evenly spread; None for all.
    resume
        Whether to skip the cases that already have a row of this revision, limit and seed.
    fresh
        Whether each case gets a process of its own.
    revision
        Name of what is measured; the engine's last commit when None.
    say
        Told one line a case.

    Returns
    -------
    tuple of Row
        All rows of this revision, limit and seed for the chosen cases, those skipped included.
    """
    measured_as = revision or machine.revision()
    found: list[Row] = []
    for case_class in classes:
        path = out / f"quality_{case_class.name}.csv"
        done = {row.key: row for row in rows.read(path, Row)} if resume else {}
        for case in evenly(case_class.load(instances), sample):
            key = (case_class.name, case.name, measured_as, time_limit, seed)
            row = done.get(key)
            if row is None:
                row = measure(
                    case,
                    case_class.name,
                    engine=engine,
                    time_limit=time_limit,
                    seed=seed,
                    revision=measured_as,
                    fresh=fresh,
                )
                rows.append(path, row)
                say(_line(case, row))
            found.append(row)
    write_table(out, instances, revision=measured_as, time_limit=time_limit, seed=seed)
    return tuple(found)


def write_table(out: Path, instances: Path, *, revision: str, time_limit: float, seed: int) -> None:
    """Write ``quality.md`` from every row of this revision, limit and seed that the folder holds."""
    out.mkdir(parents=True, exist_ok=True)
    # A case that was run twice counts once, with its last row.
    held = {row.key: row for path in sorted(out.glob("quality_*.csv")) for row in rows.read(path, Row)}
    wanted = [
        row
        for row in held.values()
        if (row.revision, row.time_limit, row.seed) == (revision, time_limit, seed)
    ]
    text = "# Quality on published classes\n\n" + markdown(wanted, published_runs(instances))
    (out / "quality.md").write_text(text, "utf-8")


def _line(case: Case, row: Row) -> str:
    mark = "proved" if row.proved else "open"
    return (
        f"{row.case_class} {case.name}: {row.value} (bound {row.bound}, known {row.best_known}) {mark}, "
        f"{row.seconds:.2f} s, {row.peak_mib} MiB, {row.ended}"
    )
