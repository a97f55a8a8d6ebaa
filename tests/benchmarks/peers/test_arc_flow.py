"""The arc-flow graph and the way back to bars."""

import pytest

from benchmarks import check
from benchmarks.peers import arc_flow as module
from benchmarks.peers.arc_flow import ModelTooLarge, arc_flow, flow_of_packing, packing_of_flow
from benchmarks.peers.highs import highs_arc_flow
from benchmarks.peers.scip import scip_arc_flow
from benchmarks.read import problem
from nesting.domain.packing import Packing, PatternUse

# Bars of 7, pieces 5 (once) and 2 (at most three on a bar, two wanted).
TINY = problem("a", [5, 2], [1, 2], [(7, None, 1)])


def test_arcs_follow_the_order_of_lengths() -> None:
    """5 only from 0; 2 from 0, after itself and after the 5: positions 0, 2, 4, 5, 7."""
    graph = arc_flow(TINY)
    assert graph.nodes == (0, 2, 4, 5, 7)
    pieces = [(graph.nodes[tail], graph.nodes[head], item) for tail, head, item in graph.arcs if item >= 0]
    assert sorted(pieces) == [(0, 2, 1), (0, 5, 0), (2, 4, 1), (5, 7, 1)]
    empty = [(graph.nodes[tail], graph.nodes[head]) for tail, head, item in graph.arcs if item < 0]
    assert empty == [(2, 4), (4, 5), (5, 7)]
    assert graph.ends == (4,)


def test_a_flow_is_taken_apart_into_bars() -> None:
    """Two bars leave at 7: pieces 5, 2 and 2 with empty stretches between them."""
    graph = arc_flow(TINY)
    steps = {(0, 5, 0): 1, (5, 7, 1): 1, (0, 2, 1): 1, (2, 4, -1): 1, (4, 5, -1): 1, (5, 7, -1): 1}
    flow = [steps.get((graph.nodes[tail], graph.nodes[head], item), 0) for tail, head, item in graph.arcs]
    packing = packing_of_flow(TINY, graph, [*flow, 2])
    # Which 2 follows which bar's path is open: any two bars that hold 5, 2 and 2 are the flow's.
    assert check.faults(TINY, packing) == ()
    assert (sum(use.times for use in packing.uses), packing.short) == (2, (0, 0))


def test_a_plan_goes_into_the_graph_and_comes_back() -> None:
    """The exact engines start from a greedy plan, so that none of them is left without one."""
    graph = arc_flow(TINY)
    plan = Packing((PatternUse(0, ((0, 1),), 1), PatternUse(0, ((1, 2),), 1)), (0, 0))
    flow = flow_of_packing(TINY, graph, plan)
    # 5 and the stretch 5-7; 2, 2 and the stretches 4-5-7; two bars.
    assert sum(flow) == 2 + 4 + 2
    back = packing_of_flow(TINY, graph, flow)
    assert check.faults(TINY, back) == ()
    assert sum(use.times for use in back.uses) == 2


def test_a_graph_too_large_is_an_answer_without_a_plan(monkeypatch: pytest.MonkeyPatch) -> None:
    """Fine rulers blow the graph up; the comparison must say so and go on."""
    monkeypatch.setattr(module, "MAX_ARCS", 3)
    with pytest.raises(ModelTooLarge):
        arc_flow(TINY)
    for peer in (scip_arc_flow, highs_arc_flow):
        answer = peer(TINY, time_limit=1)
        assert (answer.packing, answer.bound, answer.ended) == (None, 2, "more than 3 arcs")
