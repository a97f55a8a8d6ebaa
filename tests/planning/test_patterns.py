"""Fewer patterns for a settled group: the bill stays, the proof stays, and the price is told."""

from __future__ import annotations

from dataclasses import replace

from nesting.domain.goals import Goals, Slivers
from nesting.domain.problem import BarKind
from nesting.domain.rules import SawRules
from nesting.planning.patterns import with_fewer_patterns
from nesting.planning.settle import Settled, settle
from nesting.planning.slivers import sliver_count
from nesting.solver.fewer_patterns import pattern_count
from nesting.units import Length, mm
from tests.planning.groups import group_of, pieces_of

LENGTHS = [mm(length) for length in range(420, 1260, 60) for _ in range(4)]


def settled(saw: SawRules, goals: Goals, lengths: list[Length], bar: int = 2500) -> Settled:
    """Settle some pieces on bars of one length."""
    kind = BarKind(key="stock:0", length=mm(bar), head=saw.head_trim, tail=saw.tail_loss, cost=140_000)
    return settle(replace(group_of(pieces_of(lengths), [kind], saw, priced=True), goals=goals))


def test_patterns_fall_and_nothing_else_changes() -> None:
    """Same cost, same bill, same bound; fewer patterns, and the price says so."""
    saw = SawRules(kerf=mm(3), head_trim=mm(8), tail_loss=mm(8), keep_length=mm(400))
    before = settled(saw, Goals(fewer_patterns=True), LENGTHS)
    after = with_fewer_patterns(before)
    (price,) = after.goals
    assert pattern_count(after.result.best) == price.value_after < price.value_before
    assert price.value_before == pattern_count(before.result.best)
    assert (after.result.cost, after.result.bound, after.bill) == (
        before.result.cost,
        before.result.bound,
        before.bill,
    )


def test_one_pattern_stays_one_and_is_told() -> None:
    """Where nothing can be gained the goal is told all the same, and proved."""
    before = settled(SawRules(kerf=mm(3)), Goals(fewer_patterns=True), [mm(610)] * 8)
    after = with_fewer_patterns(before)
    (price,) = after.goals
    assert (price.value_before, price.value_after, price.proved) == (1, 1, True)
    assert after.result.best == before.result.best


def test_fewer_patterns_bring_no_sliver_back() -> None:
    """Lengths of 8 to 21 on bars of 64 are full of near misses; under the ban no pattern has one."""
    saw = SawRules(kerf=mm(3))
    goals = Goals(fewer_patterns=True, slivers=Slivers.FORBID)
    lengths = [mm(length) for length in range(8, 22) for _ in range(3)]
    after = with_fewer_patterns(settled(saw, goals, lengths, bar=64))
    assert sliver_count(after.group.problem, after.result.best) == 0
    assert [price.goal for price in after.goals] == ["slivers", "patterns"]
