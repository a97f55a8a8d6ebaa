"""
Whether a packing can really be sawn: an own check that shares nothing with the engine.

It walks the saw along every bar instead of using the fit formula the engine uses, so that a slip in
one is not repeated in the other.
"""

from __future__ import annotations

from collections import Counter

from nesting.domain.packing import Packing
from nesting.domain.problem import Problem


def faults(problem: Problem, packing: Packing) -> tuple[str, ...]:
    """Give every promise the packing breaks, in plain words; empty when it can be sawn."""
    found: list[str] = []
    made: Counter[int] = Counter()
    opened: Counter[int] = Counter()
    for number, use in enumerate(packing.uses, start=1):
        if use.times < 1:
            found.append(f"pattern {number} is cut {use.times} times")
        if not 0 <= use.bar < len(problem.bars):
            found.append(f"pattern {number} uses a bar that does not exist")
            continue
        if any(not 0 <= i < len(problem.lengths) or n < 1 for i, n in use.pieces):
            found.append(f"pattern {number} holds a piece that does not exist")
            continue
        opened[use.bar] += use.times
        for i, n in use.pieces:
            made[i] += n * use.times
        over = _overrun(problem, use.bar, use.pieces)
        if over > 0:
            found.append(f"pattern {number} runs {over} nm past the end of the bar")
    found.extend(_wrong_counts(problem, packing, made))
    for bar, times in opened.items():
        supply = problem.bars[bar].count
        if supply is not None and times > supply:
            found.append(f"bar {problem.bars[bar].key!r}: {times} opened, {supply} at hand")
    return tuple(found)


def cost(problem: Problem, packing: Packing) -> int:
    """Give what the opened bars cost, summed bar by bar."""
    total = 0
    for use in packing.uses:
        for _ in range(use.times):
            total += problem.bars[use.bar].cost
    return total


def _overrun(problem: Problem, bar: int, pieces: tuple[tuple[int, int], ...]) -> int:
    """Give how far the last face lies past the last good place of the bar, 0 or less when it fits."""
    kind = problem.bars[bar]
    saw = int(kind.head)
    first = True
    for i, n in pieces:
        for _ in range(n):
            saw += problem.lengths[i] + (0 if first else problem.kerf)
            first = False
    return saw - (kind.length - kind.tail)


def _wrong_counts(problem: Problem, packing: Packing, made: Counter[int]) -> list[str]:
    if len(packing.short) != len(problem.lengths):
        return [f"{len(packing.short)} shortfalls for {len(problem.lengths)} lengths"]
    return [
        f"length {problem.lengths[i]}: {made[i]} made and {short} short of {wanted} wanted"
        for i, (wanted, short) in enumerate(zip(problem.counts, packing.short, strict=True))
        if short < 0 or made[i] + short != wanted
    ]
