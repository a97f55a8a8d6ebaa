"""
The plain arc-flow model: bars are paths through the positions a piece can start and end at.

Valerio de Carvalho (1999), Annals of Operations Research 86:629-659, with its ordering of pieces (longest
first, at most the demand in a row) that keeps the graph small. Several kinds of bar leave the path at their
own end position. Engines start from the plan of best-fit decreasing, as the assignment model does.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from benchmarks.peers.answer import packing_of, sizes
from nesting.domain.packing import Packing
from nesting.domain.problem import Problem

MAX_ARCS = 1_000_000
"""Above this the model alone takes gigabytes in either engine."""


class ModelTooLarge(Exception):
    """The graph passed :data:`MAX_ARCS`."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ArcFlow:
    """
    The graph, in the order its columns have in a model: arcs first, then one column a kind of bar.

    Parameters
    ----------
    nodes
        Positions in ascending order, 0 first.
    arcs
        Tail and head as indices into ``nodes``, and the length laid there; -1 for an empty stretch.
    ends
        Index into ``nodes`` at which each kind of bar ends.
    """

    nodes: tuple[int, ...]
    arcs: tuple[tuple[int, int, int], ...]
    ends: tuple[int, ...]


def arc_flow(problem: Problem) -> ArcFlow:
    """
    Give the graph of a problem.

    Raises
    ------
    ModelTooLarge
        When it would have more than :data:`MAX_ARCS` arcs.
    """
    size = sizes(problem)
    longest = max(size.capacities)
    reached = {0}
    laid: set[tuple[int, int, int]] = set()
    for i, (piece, count) in enumerate(zip(size.pieces, problem.counts, strict=True)):
        ends: set[int] = set()
        for node in reached:
            for copy in range(count):
                tail = node + copy * piece
                if tail + piece > longest:
                    break
                laid.add((tail, tail + piece, i))
                ends.add(tail + piece)
        reached |= ends
        if len(laid) > MAX_ARCS:
            raise ModelTooLarge(f"more than {MAX_ARCS} arcs")
    nodes = tuple(sorted(reached | set(size.capacities)))
    place = {node: number for number, node in enumerate(nodes)}
    arcs = [(place[tail], place[head], i) for tail, head, i in sorted(laid)]
    arcs += [(number, number + 1, -1) for number in range(1, len(nodes) - 1)]
    return ArcFlow(nodes=nodes, arcs=tuple(arcs), ends=tuple(place[capacity] for capacity in size.capacities))


def flow_of_packing(problem: Problem, graph: ArcFlow, packing: Packing) -> list[int]:
    """Give the flow of a plan, its bars' pieces longest first, so that a model can start from it."""
    size = sizes(problem)
    place = {node: number for number, node in enumerate(graph.nodes)}
    column = {arc: number for number, arc in enumerate(graph.arcs)}
    flow = [0] * (len(graph.arcs) + len(graph.ends))
    for use in packing.uses:
        position = 0
        for i, n in use.pieces:
            for _ in range(n):
                step = (place[position], place[position + size.pieces[i]], i)
                flow[column[step]] += use.times
                position += size.pieces[i]
        for number in range(place[position], graph.ends[use.bar]):
            flow[column[number, number + 1, -1]] += use.times
        flow[len(graph.arcs) + use.bar] += use.times
    return flow


def packing_of_flow(problem: Problem, graph: ArcFlow, flow: list[int]) -> Packing:
    """
    Give the bars of a whole-number flow.

    Parameters
    ----------
    flow
        Flow on each arc, then bars of each kind; shape ``(arcs + kinds,)``.
    """
    leaving: dict[int, list[int]] = {}
    left = list(flow)
    for number, (tail, _, _) in enumerate(graph.arcs):
        if left[number]:
            leaving.setdefault(tail, []).append(number)
    bars = []
    first_kind = len(graph.arcs)
    for _ in range(sum(left[first_kind:])):
        node, content = 0, Counter[int]()
        while (kind := _ending(graph, left, node)) is None:
            number = leaving[node][-1]
            left[number] -= 1
            if not left[number]:
                leaving[node].pop()
            _, node, item = graph.arcs[number]
            if item >= 0:
                content[item] += 1
        left[first_kind + kind] -= 1
        bars.append((kind, content))
    return packing_of(problem, bars)


def _ending(graph: ArcFlow, left: list[int], node: int) -> int | None:
    first_kind = len(graph.arcs)
    return next((k for k, end in enumerate(graph.ends) if end == node and left[first_kind + k]), None)
