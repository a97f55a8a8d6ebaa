"""Fewest open stacks on the published instances, all of whose optima are known."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from time import perf_counter

from benchmarks.machine import load, processor, revision
from benchmarks.second_goals.read import StacksCase
from nesting.planning.open_units import most_open, order_for_open_units

_MEASURED = tuple(f"nesting/planning/{name}.py" for name in ("open_units", "closing_order", "shared_bars"))


@dataclass(frozen=True, slots=True, kw_only=True)
class StacksRow:
    """What was found for one instance; ``value`` is counted again from the order."""

    name: str
    customers: int
    products: int
    value: int
    bound: int
    best_known: int
    nodes: int
    seconds: float


def measure_stacks(case: StacksCase, *, max_nodes: int) -> StacksRow:
    """
    Order the products of one instance.

    Raises
    ------
    ValueError
        When the order is none, or counts differently from what it says.
    """
    begun = perf_counter()
    found = order_for_open_units(case.bars, max_nodes=max_nodes)
    seconds = perf_counter() - begun
    if sorted(found.order) != list(range(len(case.bars))):
        raise ValueError(f"{case.name}: not every product comes once.")
    value = most_open([case.bars[i] for i in found.order])
    if value != found.value:
        raise ValueError(f"{case.name}: says {found.value}, counts {value}.")
    return StacksRow(
        name=case.name,
        customers=len({customer for customers in case.bars for customer in customers}),
        products=len(case.bars),
        value=value,
        bound=found.lower_bound,
        best_known=case.best_known,
        nodes=found.nodes,
        seconds=seconds,
    )


def run_stacks(
    cases: Sequence[StacksCase], *, max_nodes: int, out: Path, say: Callable[[str], None]
) -> tuple[StacksRow, ...]:
    """Measure every instance, say each, and write ``stacks.md`` into ``out``."""
    rows = []
    for case in cases:
        row = measure_stacks(case, max_nodes=max_nodes)
        rows.append(row)
        say(f"{row.name}: {row.value} (bound {row.bound}, known {row.best_known}), {row.nodes} nodes")
    out.mkdir(parents=True, exist_ok=True)
    (out / "stacks.md").write_text(stacks_table(rows), encoding="utf-8")
    return tuple(rows)


def stacks_table(rows: Sequence[StacksRow]) -> str:
    """Give the Markdown table with its summary and its circumstances."""
    lines = [
        "# Fewest open stacks",
        "",
        "Constraint Modelling Challenge 2005 (Smith and Gent, eds.), as in the MiniZinc benchmarks (MIT).",
        "",
        f"{sum(row.value == row.best_known for row in rows)} of {len(rows)} optima found, "
        f"{sum(row.bound >= row.value for row in rows)} proved, "
        f"{sum(row.seconds for row in rows):.1f} s in all.",
        f"{processor()}, load {load()}, revision {revision(_MEASURED)}.",
        "",
        "| instance | customers | products | value | bound | known | nodes | s |",
        "| --- | --- | --- | --- | --- | --- | --- | --- |",
    ]
    lines += [
        f"| {row.name} | {row.customers} | {row.products} | {row.value} | {row.bound} | {row.best_known} | "
        f"{row.nodes} | {row.seconds:.2f} |"
        for row in rows
    ]
    return "\n".join([*lines, ""])
