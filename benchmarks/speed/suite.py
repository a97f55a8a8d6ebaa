"""The speed suite: every task once, the growth with size, one Markdown page, one CSV, one SVG."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial
from pathlib import Path

from benchmarks import rows
from benchmarks.speed import tasks
from benchmarks.speed.paper import paper
from benchmarks.speed.plot import scale_plot
from benchmarks.speed.scale import measure_scale
from benchmarks.speed.timing import Timing, markdown

SMALL_BOOK = {"materials": 8, "pieces": 10_000, "lengths": 60}
LARGE_BOOK = {"materials": 300, "pieces": 100_000, "lengths": 20}


def named_tasks(time_limit: float) -> Mapping[str, Callable[[], Timing]]:
    """Give every task by the name ``--tasks`` calls it."""
    return {
        "workbook": tasks.workbook,
        "paper": paper,
        "group": partial(tasks.warm_group, time_limit=time_limit),
        "book": partial(tasks.book, **SMALL_BOOK, time_limit=time_limit),
        "book-one-process": partial(tasks.book, **SMALL_BOOK, time_limit=time_limit, processes=1),
        "large-book": partial(tasks.book, **LARGE_BOOK, time_limit=time_limit),
        "large-book-one-process": partial(tasks.book, **LARGE_BOOK, time_limit=time_limit, processes=1),
    }


def run_speed(
    names: tuple[str, ...], *, time_limit: float, out: Path, say: Callable[[str], None] = lambda text: None
) -> tuple[Timing, ...]:
    """
    Run the named tasks, and ``scale`` when asked for; leave ``speed.md`` and the scale files in ``out``.

    Raises
    ------
    ValueError
        When a task has no such name.
    """
    known = named_tasks(time_limit)
    unknown = [name for name in names if name not in known and name != "scale"]
    if unknown:
        raise ValueError(f"No such task: {', '.join(unknown)}. Known: {', '.join(known)}, scale.")
    timings = []
    for name in names:
        if name != "scale":
            timings.append(known[name]())
            say(f"{timings[-1].task}: {timings[-1].median} s, {timings[-1].peak_mib} MiB, {timings[-1].note}")
    out.mkdir(parents=True, exist_ok=True)
    if timings:
        (out / "speed.md").write_text("# Speed of whole tasks\n\n" + markdown(timings), "utf-8")
    if "scale" in names:
        points = measure_scale(time_limit=time_limit, say=say)
        rows.write(out / "scale.csv", points)
        (out / "scale.svg").write_text(scale_plot(points), "utf-8")
    return tuple(timings)
