"""Close the gap: an integer programme over the patterns or the arcs that a better plan could still use."""

from __future__ import annotations

from collections.abc import Sequence

from nesting.solver.aim import Aim
from nesting.solver.arcs import Arcs, places
from nesting.solver.columns import Pattern
from nesting.solver.mip import Answer, Outcome, Row, solve_mip
from nesting.solver.rounding import merge
from nesting.solver.search import Plan, Search


def close_by_patterns(
    search: Search, aim: Aim, patterns: Sequence[Pattern], target: int, *, max_nodes: int
) -> Outcome:
    """
    Find a plan worth ``target`` or less that uses only ``patterns``, or show that there is none.

    Surplus pieces are allowed, so full patterns stand for all that they contain.
    """
    reduced = search.reduced
    m = len(reduced.sizes)
    demand_rows: list[list[tuple[int, int]]] = [[] for _ in range(m)]
    supply_rows: list[list[tuple[int, int]]] = [[] for _ in reduced.kinds]
    highs = []
    costs = []
    for number, pattern in enumerate(patterns):
        supply = reduced.kinds[pattern.kind].supply
        most = max(-(-reduced.demands[i] // n) for i, n in pattern.pieces)
        highs.append(most if supply is None else min(most, supply))
        costs.append(aim.costs[pattern.kind])
        supply_rows[pattern.kind].append((number, 1))
        for i, n in pattern.pieces:
            demand_rows[i].append((number, n))
    rows = []
    if aim.leaving is not None:
        for i, cost in enumerate(aim.leaving):
            demand_rows[i].append((len(patterns) + i, 1))
            highs.append(reduced.demands[i])
            costs.append(cost)
        if aim.budget is not None:
            rows.append(Row(None, aim.budget, [(len(patterns) + i, w) for i, w in enumerate(aim.weights)]))
    if not all(demand_rows):
        return Outcome.IMPOSSIBLE
    rows += [Row(n, None, entries) for n, entries in zip(reduced.demands, demand_rows, strict=True)]
    rows += _supply_rows(search, supply_rows)
    rows.append(Row(None, target, [(n, cost) for n, cost in enumerate(costs) if cost]))
    answer = solve_mip(costs, highs, rows, max_nodes=max_nodes, stopping=search.stopping)
    if answer.values:
        search.offer(tuple((p, n) for p, n in zip(patterns, answer.values, strict=False) if n))
    return answer.outcome


def _supply_rows(search: Search, entries: Sequence[Sequence[tuple[int, int]]]) -> list[Row]:
    return [
        Row(None, kind.supply, used)
        for kind, used in zip(search.reduced.kinds, entries, strict=True)
        if kind.supply is not None and used
    ]


def close_by_arcs(search: Search, arcs: Arcs, target: int, *, max_nodes: int, presolve: bool) -> Outcome:
    """
    Find a plan of cost ``target`` or less over the arcs and offer it, or show that there is none.

    Pieces flow along arcs from place 0 to the end of a bar; what flows into a place flows out of it.

    Returns
    -------
    Outcome
        Impossible: no plan costs ``target`` or less. Optimal: the plan offered is the cheapest of all.
    """
    reduced = search.reduced
    laid = places(arcs, reduced.sizes)
    ends = [
        (k, w) for k in range(len(reduced.kinds)) for w in range(1, arcs.ends.shape[1]) if arcs.ends[k, w]
    ]
    inflow: dict[int, list[tuple[int, int]]] = {}
    demand_rows: list[list[tuple[int, int]]] = [[] for _ in reduced.sizes]
    highs = []
    for number, (i, w) in enumerate(laid):
        inflow.setdefault(w + reduced.sizes[i], []).append((number, 1))
        if w:
            inflow.setdefault(w, []).append((number, -1))
        demand_rows[i].append((number, 1))
        highs.append(reduced.demands[i])
    pieces = sum(reduced.demands)
    supply_rows: list[list[tuple[int, int]]] = [[] for _ in reduced.kinds]
    costs = [0] * len(laid)
    for number, (k, w) in enumerate(ends, start=len(laid)):
        inflow.setdefault(w, []).append((number, -1))
        supply_rows[k].append((number, 1))
        costs.append(reduced.kinds[k].cost)
        supply = reduced.kinds[k].supply
        highs.append(pieces if supply is None else supply)
    rows = [Row(0, 0, entries) for _, entries in sorted(inflow.items())]
    rows += [Row(n, None, entries) for n, entries in zip(reduced.demands, demand_rows, strict=True)]
    rows += _supply_rows(search, supply_rows)
    rows.append(Row(None, target, [(n, cost) for n, cost in enumerate(costs) if cost]))
    answer = solve_mip(costs, highs, rows, max_nodes=max_nodes, stopping=search.stopping, presolve=presolve)
    if answer.values:
        search.offer(_walk(search, laid, ends, answer))
    return answer.outcome


def _walk(search: Search, laid: list[tuple[int, int]], ends: list[tuple[int, int]], answer: Answer) -> Plan:
    """Take the flow apart into paths."""
    sizes = search.reduced.sizes
    left = list(answer.values)
    out: dict[int, list[int]] = {}
    for number, (_, w) in enumerate([*laid, *ends]):
        if left[number] > 0:
            out.setdefault(w, []).append(number)
    uses: list[tuple[Pattern, int]] = []
    while any(left[number] for number in out.get(0, ())):
        place = 0
        path: list[int] = []
        while not path or path[-1] < len(laid):
            number = next(n for n in out[place] if left[n])
            path.append(number)
            if number < len(laid):
                place += sizes[laid[number][0]]
        times = min(left[n] for n in path)
        counts: dict[int, int] = {}
        for number in path:
            left[number] -= times
            if number < len(laid):
                counts[laid[number][0]] = counts.get(laid[number][0], 0) + 1
        uses.append((Pattern(ends[path[-1] - len(laid)][0], tuple(sorted(counts.items()))), times))
    return merge(uses)
