"""The paper of several demo buildings: every document that the saw, the rack and the boxes need."""

from __future__ import annotations

import re
import tempfile
import time
from dataclasses import replace
from pathlib import Path

from benchmarks.apart import run_apart
from benchmarks.speed.timing import Timing
from nesting.demo import tables
from nesting.domain.request import Request
from nesting.domain.runs import Run

# What the plan may take before the paper is timed; solving is no part of this task.
_PLANNING = 20.0
_PATIENCE = 180.0
_PAGE = re.compile(rb"/Type\s*/Page\b")


def paper(*, buildings: int = 3, repeats: int = 3) -> Timing:
    """
    Time all the paper of a plan for so many demo buildings, each repeat in a fresh process.

    From the plan in memory to the files: typefaces are loaded and every code is made anew. The pages of
    one plan are written by one process on one core.
    """
    task = f"paper of {buildings} demo buildings, plan to PDF files, on one core"
    wall, processor, peak = [], [], 0
    for _ in range(repeats):
        outcome = run_apart(_print, patience=_PATIENCE, buildings=buildings)
        if outcome.value is None:
            return Timing(task=task, note=f"not run: {outcome.failure}")
        took, used, pages = outcome.value
        wall.append(took)
        processor.append(used)
        peak = max(peak, outcome.peak_mib)
    middle = sorted(processor)[len(processor) // 2]
    note = f"{pages} pages; {middle:.2f} s of processor time, {pages / middle:.0f} pages a second of it"
    return Timing(task=task, seconds=tuple(wall), peak_mib=peak, note=note)


def demo_buildings(count: int) -> Request:
    """Give the demo's request with so many copies of its building, each a job of its own."""
    from nesting.sheets.read_request import read_request
    from nesting.sheets.template import write_template

    with tempfile.TemporaryDirectory() as folder:
        source = Path(folder) / "runs.xlsx"
        write_template(source, tables())
        request = read_request(source)
    return replace(
        request, runs=tuple(_copy(run, number) for number in range(1, count + 1) for run in request.runs)
    )


def pages_of(document: bytes) -> int:
    """Count the pages of a PDF whose objects are not packed into streams."""
    return len(_PAGE.findall(document))


def _copy(run: Run, number: int) -> Run:
    """Give a run of another building that is built alike."""
    return replace(
        run,
        job=f"{run.job} {number}",
        id=f"{run.id}.{number}",
        partner_left=f"{run.partner_left}.{number}" if run.partner_left else "",
        partner_right=f"{run.partner_right}.{number}" if run.partner_right else "",
        place=replace(run.place, building=f"{run.place.building} {number}"),
    )


def _print(*, buildings: int) -> tuple[float, float, int]:
    """Give seconds by the clock, seconds of the processor, and pages."""
    from nesting.batch.pool import Limits
    from nesting.batch.run import plan_request
    from nesting.paper import write_paper

    plan = plan_request(demo_buildings(buildings), Limits(seconds=_PLANNING, processes=1))
    with tempfile.TemporaryDirectory() as folder:
        started, used = time.perf_counter(), time.process_time()
        written = write_paper(plan, Path(folder))
        took, used = time.perf_counter() - started, time.process_time() - used
        pages = sum(pages_of(path.read_bytes()) for path in written)
    return round(took, 3), round(used, 3), pages
