"""The least cost of a handful of pieces by trying every placing: the oracle of these tests."""

from __future__ import annotations

from collections import Counter

from nesting.domain.packing import Packing, PatternUse
from nesting.domain.problem import Problem
from nesting.domain.progress import Result, SolverReport, StopReason


def brute_force(problem: Problem, *, seed: int = 0, time_limit: float = 0.0) -> Result:
    """Give a proved least plan; only for ten pieces or so, since it tries every placing."""
    pieces = [i for i, count in enumerate(problem.counts) for _ in range(count)]
    best: list[tuple[int, list[tuple[int, list[int]]]]] = []

    def place(number: int, bars: list[tuple[int, list[int]]], spent: int) -> None:
        if best and spent >= best[0][0]:
            return
        if number == len(pieces):
            best[:] = [(spent, [(kind, list(content)) for kind, content in bars])]
            return
        piece = pieces[number]
        for kind, content in bars:
            laid = sum(problem.lengths[i] for i in content) + len(content) * problem.kerf
            if laid + problem.lengths[piece] <= problem.bars[kind].usable:
                content.append(piece)
                place(number + 1, bars, spent)
                content.pop()
        for kind, bar in enumerate(problem.bars):
            used = sum(1 for other, _ in bars if other == kind)
            if problem.lengths[piece] <= bar.usable and (bar.count is None or used < bar.count):
                bars.append((kind, [piece]))
                place(number + 1, bars, spent + bar.cost)
                bars.pop()

    place(0, [], 0)
    cost, bars = best[0]
    uses = tuple(PatternUse(kind, tuple(sorted(Counter(content).items())), 1) for kind, content in bars)
    return Result(
        best=Packing(uses=uses, short=(0,) * len(problem.lengths)),
        cost=cost,
        bound=cost,
        ended=StopReason.PROVED,
        report=SolverReport(),
    )
