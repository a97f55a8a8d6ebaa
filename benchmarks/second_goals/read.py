"""
Published instances of two second goals, read from a folder that is never part of this project.

Pattern reduction: Goulimis (2015), Pattern Reduction Test Instances v1.1, CC0 1.0. Open stacks:
Constraint Modelling Challenge 2005 (Smith and Gent, eds.), as in the MiniZinc benchmarks, MIT.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from benchmarks.read import problem_of, records
from nesting.domain.packing import Packing, PatternUse
from nesting.domain.problem import Problem
from nesting.solver.fewer_patterns import PatternLimits
from nesting.units import Length


@dataclass(frozen=True, slots=True, kw_only=True)
class PatternCase:
    """
    A plan with few bars and many patterns.

    Parameters
    ----------
    bars
        Bars of the plan given; an answer may not open more.
    best_known
        Patterns that the source says are attainable; None when it says nothing.
    """

    name: str
    problem: Problem
    start: Packing
    limits: PatternLimits
    bars: int
    best_known: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class StacksCase:
    """
    Products with the customers who want them; ``best_known`` is the proved least of open stacks.

    Parameters
    ----------
    bars
        Customers of each product.
    """

    name: str
    bars: tuple[tuple[str, ...], ...]
    best_known: int


def pattern_case(record: Mapping[str, Any]) -> PatternCase:
    """Give the case of one record, its lengths put longest first."""
    problem = problem_of(record)
    place = {length: i for i, length in enumerate(problem.lengths)}
    lengths = [place[Length(length)] for length in record["lengths"]]
    uses = tuple(
        PatternUse(0, tuple(sorted((lengths[i], n) for i, n in pieces)), times)
        for times, pieces in record["start_patterns"]
    )
    return PatternCase(
        name=record["name"],
        problem=problem,
        start=Packing(uses, (0,) * len(problem.lengths)),
        limits=PatternLimits(
            most_pieces=record["max_items"],
            most_lengths=record["max_distinct"],
            least_fill=Length(record["min_fill"]),
        ),
        bars=record["rolls"],
        best_known=record["best_known"],
    )


def stacks_case(record: Mapping[str, Any]) -> StacksCase:
    """Give the case of one record, turned from products of each customer to customers of each product."""
    bars: list[list[str]] = [[] for _ in range(record["products"])]
    for customer, products in enumerate(record["orders"]):
        for product in products:
            bars[product].append(f"{customer:03}")
    return StacksCase(
        name=record["name"],
        bars=tuple(tuple(customers) for customers in bars),
        best_known=record["best_known"],
    )


def pattern_cases(folder: Path) -> tuple[PatternCase, ...]:
    """
    Give all pattern-reduction cases.

    Raises
    ------
    FileNotFoundError
        When the folder has no such file.
    """
    return tuple(pattern_case(record) for record in records(folder / "pattern_reduction.jsonl.gz"))


def stacks_cases(folder: Path) -> tuple[StacksCase, ...]:
    """
    Give all open-stacks cases.

    Raises
    ------
    FileNotFoundError
        When the folder has no such file.
    """
    return tuple(stacks_case(record) for record in records(folder / "open_stacks.jsonl.gz"))
