"""Replays an answer against its problem, and solves tiny problems by trying everything."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

from nesting.domain.packing import cost_of, remainder
from nesting.domain.problem import BarKind, Problem
from nesting.domain.progress import Result
from nesting.units import Length


def problem(
    pieces: dict[int, int],
    bars: list[BarKind] | int,
    *,
    kerf: int = 0,
    keep_length: int = 0,
) -> Problem:
    """Give a problem from {length: count} and kinds of bar, or one unlimited bar length."""
    lengths = sorted(pieces, reverse=True)
    kinds = [BarKind(key="bar", length=Length(bars))] if isinstance(bars, int) else bars
    return Problem(
        lengths=tuple(Length(length) for length in lengths),
        counts=tuple(pieces[length] for length in lengths),
        bars=tuple(kinds),
        kerf=Length(kerf),
        keep_length=Length(keep_length),
    )


def faults(asked: Problem, result: Result) -> Iterator[str]:
    """Give everything that is wrong with an answer."""
    cut = [0] * len(asked.lengths)
    opened = [0] * len(asked.bars)
    for use in result.best.uses:
        opened[use.bar] += use.times
        if use.times < 1 or not use.pieces or any(n < 1 for _, n in use.pieces):
            yield f"empty use {use}"
        if remainder(asked, use.bar, use.pieces) < asked.bars[use.bar].tail:
            yield f"{use} does not fit"
        for i, n in use.pieces:
            cut[i] += n * use.times
    for kind, number in zip(asked.bars, opened, strict=True):
        if kind.count is not None and number > kind.count:
            yield f"{number} bars of {kind.key}, {kind.count} at hand"
    for i, (made, short, count) in enumerate(zip(cut, result.best.short, asked.counts, strict=True)):
        if made + short != count or short < 0:
            yield f"length {i}: {made} cut and {short} left out of {count}"
    if cost_of(asked, result.best) != result.cost:
        yield "the cost is not the sum of the bars' costs"
    if result.bound > result.cost:
        yield "the bound is above the cost"


def best_by_trying(asked: Problem) -> tuple[int, int]:
    """Give the least length left out and the least cost then, by trying every pattern everywhere."""
    patterns = [
        (b, pieces)
        for b in range(len(asked.bars))
        for pieces in _fillings(asked, 0)
        if pieces and remainder(asked, b, pieces) >= asked.bars[b].tail
    ]

    @cache
    def least(left: tuple[int, ...], supply: tuple[int | None, ...]) -> tuple[int, int]:
        first = next((i for i, n in enumerate(left) if n), None)
        if first is None:
            return (0, 0)
        fewer = (*left[:first], left[first] - 1, *left[first + 1 :])
        short, cost = least(fewer, supply)
        best = (short + asked.lengths[first], cost)
        for b, pieces in patterns:
            at_hand = supply[b]
            if at_hand == 0 or pieces[0][0] != first or any(left[i] < n for i, n in pieces):
                continue
            rest = list(left)
            for i, n in pieces:
                rest[i] -= n
            after = supply if at_hand is None else (*supply[:b], at_hand - 1, *supply[b + 1 :])
            short, cost = least(tuple(rest), after)
            best = min(best, (short, cost + asked.bars[b].cost))
        return best

    return least(asked.counts, tuple(bar.count for bar in asked.bars))


def _fillings(asked: Problem, i: int) -> Iterator[tuple[tuple[int, int], ...]]:
    if i == len(asked.lengths):
        yield ()
        return
    for rest in _fillings(asked, i + 1):
        for n in range(asked.counts[i] + 1):
            yield ((i, n), *rest) if n else rest
