"""Fewer patterns on the published plans, beside the values their source calls attainable."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from time import perf_counter

from benchmarks import check
from benchmarks.machine import load, processor, revision
from benchmarks.second_goals.read import PatternCase
from nesting.domain.packing import Packing
from nesting.solver.fewer_patterns import fewer_patterns, pattern_count


@dataclass(frozen=True, slots=True, kw_only=True)
class PatternRow:
    """
    What became of one plan.

    Parameters
    ----------
    bars_before, bars, patterns_before, patterns
        Before and after.
    faults
        What the own check found wrong, in words; empty when the plan can be sawn and obeys the limits.
    """

    name: str
    bars_before: int
    bars: int
    patterns_before: int
    patterns: int
    best_known: int | None
    seconds: float
    faults: tuple[str, ...]


def measure_patterns(case: PatternCase, *, rounds: int, seed: int) -> PatternRow:
    """Reduce the patterns of one case and check the answer without trusting the engine."""
    begun = perf_counter()
    packing = fewer_patterns(case.problem, case.start, rounds=rounds, seed=seed, limits=case.limits)
    seconds = perf_counter() - begun
    bars = sum(use.times for use in packing.uses)
    faults = [*check.faults(case.problem, packing), *_limits_broken(case, packing)]
    if bars > case.bars:
        faults.append(f"{bars} bars, {case.bars} before")
    return PatternRow(
        name=case.name,
        bars_before=case.bars,
        bars=bars,
        patterns_before=pattern_count(case.start),
        patterns=pattern_count(packing),
        best_known=case.best_known,
        seconds=seconds,
        faults=tuple(faults),
    )


def run_patterns(
    cases: Sequence[PatternCase], *, rounds: int, seed: int, out: Path, say: Callable[[str], None]
) -> tuple[PatternRow, ...]:
    """Measure every case, say each, and write ``patterns.md`` into ``out``."""
    rows = []
    for case in cases:
        row = measure_patterns(case, rounds=rounds, seed=seed)
        rows.append(row)
        say(
            f"{row.name}: {row.patterns_before} -> {row.patterns} patterns (known {row.best_known}), "
            f"{row.bars} bars, {row.seconds:.1f} s{'; ' + '; '.join(row.faults) if row.faults else ''}"
        )
    out.mkdir(parents=True, exist_ok=True)
    (out / "patterns.md").write_text(pattern_table(rows, rounds=rounds, seed=seed), encoding="utf-8")
    return tuple(rows)


def pattern_table(rows: Sequence[PatternRow], *, rounds: int, seed: int) -> str:
    """Give the Markdown table with its summary and its circumstances."""
    known = [row for row in rows if row.best_known is not None]
    reached = sum(row.patterns <= (row.best_known or 0) for row in known)
    lines = [
        "# Fewer patterns at no more bars",
        "",
        "Goulimis (2015), Pattern Reduction Test Instances v1.1 (CC0): few bars, many patterns.",
        '"Known" is what the source calls attainable; it is not proved least.',
        "",
        f"{len(rows)} plans, {sum(row.patterns_before for row in rows)} patterns before, "
        f"{sum(row.patterns for row in rows)} after; "
        f"{sum(row.bars > row.bars_before for row in rows)} with more bars; "
        f"at least as few as known in {reached} of {len(known)}; "
        f"{sum(bool(row.faults) for row in rows)} with a fault.",
        f"{rounds} rounds, seed {seed}; {processor()}, load {load()}, revision {revision()}.",
        "",
        "| plan | bars | bars after | patterns | after | known | s |",
        "| --- | --- | --- | --- | --- | --- | --- |",
    ]
    lines += [
        f"| {row.name} | {row.bars_before} | {row.bars} | {row.patterns_before} | {row.patterns} | "
        f"{'' if row.best_known is None else row.best_known} | {row.seconds:.1f} |"
        for row in rows
    ]
    return "\n".join([*lines, ""])


def _limits_broken(case: PatternCase, packing: Packing) -> list[str]:
    broken = []
    for number, use in enumerate(packing.uses, start=1):
        fill = sum(case.problem.lengths[i] * n for i, n in use.pieces)
        if sum(n for _, n in use.pieces) > case.limits.most_pieces:
            broken.append(f"pattern {number} holds too many pieces")
        if len(use.pieces) > case.limits.most_lengths:
            broken.append(f"pattern {number} holds too many lengths")
        if fill < case.limits.least_fill:
            broken.append(f"pattern {number} fills too little")
    return broken
