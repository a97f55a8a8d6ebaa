"""Solve a published example through the public interface and check the plan by other means."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from benchmarks import check
from benchmarks.read import problem
from nesting.domain.problem import Problem
from nesting.domain.progress import Result
from nesting.solver.solve import solve
from nesting.stop import NEVER, Stop


def pieces(table: str) -> tuple[list[Decimal], list[int]]:
    """Give lengths and demands of a table such as ``45x97 36x610``."""
    pairs = [entry.split("x") for entry in table.split()]
    return [Decimal(length) for length, _ in pairs], [int(count) for _, count in pairs]


def example(stock: str, table: str) -> Problem:
    """Give the problem of a single stock length and a table of pieces."""
    lengths, demands = pieces(table)
    return problem("published", lengths, demands, [(Decimal(stock), None, 1)])


def several(stock: Sequence[tuple[str, int]], table: str) -> Problem:
    """Give the problem of several stock lengths, each with its cost, without limit of supply."""
    lengths, demands = pieces(table)
    return problem("published", lengths, demands, [(Decimal(length), None, cost) for length, cost in stock])


def solved(group: Problem, *, stop: Stop = NEVER) -> Result:
    """Give the result after an own check that the plan can be sawn and costs what it says."""
    result = solve(group, stop=stop)
    assert check.faults(group, result.best) == ()
    assert not any(result.best.short)
    assert check.cost(group, result.best) == result.cost
    assert result.bound <= result.cost
    return result
