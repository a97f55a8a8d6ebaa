"""The timed tasks."""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from benchmarks import machine
from benchmarks.apart import run_apart
from benchmarks.cases.shop import shop_group
from benchmarks.engine import Engine, ours
from benchmarks.memory import AllMemory
from benchmarks.speed.orders import order_book
from benchmarks.speed.timing import Timing

_PATIENCE = 5.0
"""Times the time limit (and a minute at least) after which a task is given up."""


def workbook(*, repeats: int = 3) -> Timing:
    """
    Time the demo building's workbook to a finished workbook, each repeat a cold process.

    The demo command runs once beforehand and only to write its input workbook.
    """
    task = "demo building, workbook in to workbook out, cold process"
    with tempfile.TemporaryDirectory() as folder:
        demo = _command("demo", folder, "--time-limit", "1")
        source, target = Path(folder) / "runs.xlsx", Path(folder) / "timed.xlsx"
        if not source.exists():
            return Timing(task=task, note=f"not run: the demo command failed: {_last_line(demo.stderr)}")
        seconds, peaks = [], []
        for _ in range(repeats):
            took, peak, code = _timed_command("plan", str(source), "--output", str(target))
            # Exit code 1 is a finished plan that leaves something out, with its workbook written.
            if code not in (0, 1) or not target.exists():
                return Timing(task=task, note=f"not run: the plan command ended with exit code {code}")
            seconds.append(took)
            peaks.append(peak)
            target.unlink()
    return Timing(task=task, seconds=tuple(seconds), peak_mib=max(peaks), note="workbook written")


def warm_group(*, time_limit: float, repeats: int = 5, engine: Engine = ours) -> Timing:
    """Time one group of 60 lengths and 1 160 pieces on 6 m bars in a process that has solved before."""
    engine(shop_group(60, 1_160, seed=0), seed=1, time_limit=time_limit)
    seconds, notes = [], []
    machine.forget_peak_memory()
    for seed in range(1, repeats + 1):
        problem = shop_group(60, 1_160, seed=seed)
        started = time.perf_counter()
        result = engine(problem, seed=1, time_limit=time_limit)
        seconds.append(round(time.perf_counter() - started, 4))
        notes.append(f"{result.cost} bars {'proved' if result.proved else 'open'}")
    return Timing(
        task="one group of 60 lengths, 1 160 pieces, 6 m bars, warm; another group each repeat",
        seconds=tuple(seconds),
        peak_mib=machine.peak_memory(),
        note=", ".join(notes),
    )


def book(
    *, materials: int, pieces: int, lengths: int, time_limit: float, processes: int | None = None
) -> Timing:
    """
    Time a whole order book from request to audited plan, take-off and cut order included.

    Parameters
    ----------
    processes
        Solver processes; with None one a core is used where that pays.
    """
    workers = "one process" if processes == 1 else "one process a core"
    task = (
        f"{pieces} pieces in {materials} materials of {lengths} lengths, request to audited plan, {workers}"
    )
    outcome = run_apart(
        _plan_book,
        patience=max(60.0, _PATIENCE * time_limit),
        materials=materials,
        pieces=pieces,
        lengths=lengths,
        time_limit=time_limit,
        processes=processes,
    )
    if outcome.value is None:
        return Timing(task=task, note=f"not run: {outcome.failure}")
    seconds, note, all_mib = outcome.value
    return Timing(task=task, seconds=(seconds,), peak_mib=outcome.peak_mib, all_mib=all_mib, note=note)


def _plan_book(
    *, materials: int, pieces: int, lengths: int, time_limit: float, processes: int | None
) -> tuple[float, str, int]:
    from nesting.batch.pool import Limits
    from nesting.batch.run import plan_request

    request = order_book(materials=materials, pieces=pieces, lengths=lengths)
    started = time.perf_counter()
    with AllMemory() as memory:
        plan = plan_request(request, Limits(seconds=time_limit, processes=processes))
        seconds = round(time.perf_counter() - started, 3)
    bars = sum(len(group.bars) for group in plan.groups)
    proved = sum(1 for group in plan.groups if group.proved)
    note = f"{bars} bars, {proved} of {len(plan.groups)} groups proved"
    return seconds, f"{note}; {memory.processes} processes at most", memory.peak_mib


def _command(*arguments: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run([sys.executable, "-m", "nesting", *arguments], capture_output=True, text=True)


def _timed_command(*arguments: str) -> tuple[float, int, int]:
    """Give seconds, peak MiB and exit code of one command in a fresh process."""
    started = time.perf_counter()
    process = subprocess.Popen(
        [sys.executable, "-m", "nesting", *arguments], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
    )
    _, status, usage = os.wait4(process.pid, 0)
    process.returncode = os.waitstatus_to_exitcode(status)
    return round(time.perf_counter() - started, 3), usage.ru_maxrss // 1024, process.returncode


def _last_line(text: str) -> str:
    lines = text.strip().splitlines()
    return lines[-1] if lines else "no message"
