"""Run the engine on one case and judge what it says."""

from __future__ import annotations

import time
from dataclasses import dataclass

from benchmarks import check, machine
from benchmarks.apart import run_apart
from benchmarks.case import Case
from benchmarks.engine import Engine
from benchmarks.quality.row import Row
from nesting.domain.problem import Problem
from nesting.domain.progress import Result

_START_UP = 60.0
"""Seconds granted to a fresh process for imports and compiled kernels, beyond the time limit."""
_OVERRUN = 3.0
"""Times the limit after which a run that ignores it is ended and counted as failed."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """What the engine gave and what it took; ``failure`` says in words why there is no result."""

    result: Result | None = None
    failure: str = ""
    seconds: float = 0.0
    cpu_seconds: float = 0.0
    peak_mib: int = 0


def measure(
    case: Case, case_class: str, *, engine: Engine, time_limit: float, seed: int, revision: str, fresh: bool
) -> Row:
    """
    Give the row of one case.

    Parameters
    ----------
    fresh
        Whether to solve in a process of its own: memory is then the case's alone and imports are cold.
    """
    if fresh:
        outcome = run_apart(
            timed,
            patience=_START_UP + _OVERRUN * time_limit,
            engine=engine,
            problem=case.problem,
            seed=seed,
            time_limit=time_limit,
        )
        run = outcome.value or Run(failure=outcome.failure)
    else:
        run = timed(engine=engine, problem=case.problem, seed=seed, time_limit=time_limit)
    return judge(case, case_class, run, time_limit=time_limit, seed=seed, revision=revision, warm=not fresh)


def timed(*, engine: Engine, problem: Problem, seed: int, time_limit: float) -> Run:
    """Give the engine's result with the time and memory of the call alone; a failure is a result too."""
    machine.forget_peak_memory()
    wall, cpu = time.perf_counter(), time.process_time()
    result, failure = None, ""
    try:
        result = engine(problem, seed=seed, time_limit=time_limit)
    except Exception as why:
        # One case that breaks the engine must not cost the rows of all the others.
        failure = f"{type(why).__name__}: {why}"
    return Run(
        result=result,
        failure=failure,
        seconds=round(time.perf_counter() - wall, 4),
        cpu_seconds=round(time.process_time() - cpu, 4),
        peak_mib=machine.peak_memory(),
    )


def judge(
    case: Case, case_class: str, run: Run, *, time_limit: float, seed: int, revision: str, warm: bool
) -> Row:
    """
    Give the row of one run, by the harness's own check of the plan and not by the engine's word.

    A plan that cannot be sawn, leaves pieces short or contradicts its own bound has no value.
    """
    problem, result = case.problem, run.result
    value, bound, ended = None, None, run.failure
    if result is not None:
        broken = check.faults(problem, result.best)
        bound, ended = result.bound, result.ended.value
        if broken:
            ended = f"unsound: {broken[0]}"
        elif any(result.best.short):
            ended = f"{sum(result.best.short)} pieces short, {ended}"
        else:
            value = check.cost(problem, result.best)
            if value < bound:
                value, ended = None, f"unsound: value {value} under bound {bound}"
            elif value != result.cost:
                value, ended = None, f"unsound: said to cost {result.cost}, costs {value}"
    if bound is not None and case.best_known is not None and bound > case.best_known:
        ended = f"unsound: bound {bound} above the known {case.best_known}"
        value = None
    return Row(
        case_class=case_class,
        series=case.series,
        name=case.name,
        lengths=len(problem.lengths),
        pieces=sum(problem.counts),
        bound=bound,
        value=value,
        gap=None if value is None or bound is None else _gap(value, bound),
        best_known=case.best_known,
        against=against(value, case.best_known),
        proved=value is not None and value == bound,
        seconds=run.seconds,
        cpu_seconds=run.cpu_seconds,
        peak_mib=run.peak_mib,
        ended=ended,
        time_limit=time_limit,
        seed=seed,
        warm=warm,
        revision=revision,
        processor=machine.processor(),
        load=machine.load(),
    )


def against(value: int | None, best_known: int | None) -> str:
    """Give how a value stands against the best known one; no value is worse than any."""
    if best_known is None:
        return "unknown"
    if value is None or value > best_known:
        return "worse"
    return "equal" if value == best_known else "better"


def _gap(value: int, bound: int) -> float:
    return round((value - bound) / value, 6) if value else 0.0
