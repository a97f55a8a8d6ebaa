"""The any-time suite: every promise on every case, one Markdown page, broken promises first."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import groupby
from pathlib import Path

from benchmarks import machine
from benchmarks.anytime.promises import (
    Finding,
    batch_cancel_heard,
    cancel_heard,
    first_answer,
    limit_kept,
    one_plan_a_seed,
)
from benchmarks.apart import run_apart
from benchmarks.cases.shop import SIZES, shop_group, wide_group
from nesting.domain.problem import Problem
from nesting.solver.solve import solve

LIMITS = (0.2, 1.0, 4.0)
MOMENTS = (0.1, 0.7, 2.0, 5.0)
BATCH_MOMENTS = (0.05, 0.3, 1.0, 2.0, 4.0)
PROCESSES = (1, 2, 3)


def run_anytime(
    published: tuple[Problem, ...], *, out: Path, say: Callable[[str], None] = lambda text: None
) -> tuple[Finding, ...]:
    """
    Measure every promise and leave ``anytime.md`` in ``out``.

    Parameters
    ----------
    published
        Hard cases that the limits and cancels are measured on, beside groups made here.
    """
    solve(shop_group(60, 1_160, seed=0))
    wide = wide_group(1_000)
    findings: list[Finding] = []
    for finding in _measured(wide, (wide, *published)):
        findings.append(finding)
        say(_line(finding))
    out.mkdir(parents=True, exist_ok=True)
    (out / "anytime.md").write_text("# Promises while a search runs\n\n" + markdown(findings), "utf-8")
    return tuple(findings)


def _measured(wide: Problem, hard: tuple[Problem, ...]) -> Iterator[Finding]:
    shop = [shop_group(lengths, pieces) for lengths, pieces in SIZES]
    for problem in (*shop, shop_group(40, 100_000), wide, *hard[1:]):
        yield from first_answer(problem, seconds=3.0)
    for problem in (*shop[-1:], wide):
        cold = run_apart(
            first_answer, patience=60.0, problem=problem, seconds=0.5, where=", first of its process"
        )
        yield from cold.value or ()
    for problem in hard:
        for seconds in LIMITS:
            yield limit_kept(problem, seconds=seconds)
        for after in MOMENTS:
            heard = cancel_heard(problem, after=after)
            if heard is not None:
                yield heard
    for processes in (1, 2):
        for after in BATCH_MOMENTS:
            outcome = run_apart(
                batch_cancel_heard,
                patience=120.0,
                materials=8,
                lengths=200,
                processes=processes,
                after=after,
            )
            if outcome.failure:
                yield Finding(promise="cancel heard within 0.5 s", case=outcome.failure, kept=False)
            elif outcome.value is not None:
                yield outcome.value
    yield one_plan_a_seed(materials=6, lengths=40, processes=PROCESSES)


def markdown(findings: list[Finding]) -> str:
    """Give one line a promise, then every measurement that broke one."""
    lines = [
        f"Revision {machine.revision(('nesting',))}; {machine.processor()}; load average {machine.load()}.",
        "",
        "| promise | measured | kept | worst s | allowed then s | worst case |",
        "|" + " --- |" * 6,
    ]
    ordered = sorted(findings, key=lambda finding: finding.promise)
    for promise, group in groupby(ordered, key=lambda finding: finding.promise):
        own = list(group)
        kept = sum(1 for finding in own if finding.kept)
        timed = [f for f in own if f.seconds is not None and f.allowed is not None]
        cells = ["-", "-", "-"]
        if timed:
            worst = max(timed, key=lambda f: (f.seconds or 0.0) - (f.allowed or 0.0))
            cells = [f"{worst.seconds:.3f}", f"{worst.allowed:g}", worst.case]
        lines.append(f"| {promise} | {len(own)} | {kept} | " + " | ".join(cells) + " |")
    broken = [finding for finding in ordered if not finding.kept]
    lines += ["", "Every promise was kept." if not broken else "Broken:", ""]
    lines += [f"- {_line(finding)}" for finding in broken]
    return "\n".join(lines).rstrip() + "\n"


def _line(finding: Finding) -> str:
    took = "" if finding.seconds is None else f": {finding.seconds:.3f} s of {finding.allowed:g} s"
    return f"{finding.promise}, {finding.case}{took}, {'kept' if finding.kept else 'BROKEN'}"
