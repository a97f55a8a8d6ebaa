"""The integer engine behind its adapter."""

from __future__ import annotations

from random import Random

import pytest

from nesting.solver.mip import Outcome, Row, solve_mip


def test_finds_the_least_cost() -> None:
    """2 x + 3 y >= 7 at costs 2 and 3.5: y = 1 and x = 2 cost 7.5 in halves 15; x = 4 costs 16."""
    answer = solve_mip(
        [4, 7], [9, 9], [Row(7, None, [(0, 2), (1, 3)])], max_nodes=1000, stopping=lambda: False
    )
    assert (answer.outcome, answer.values) == (Outcome.OPTIMAL, (2, 1))


def test_says_when_nothing_is_possible() -> None:
    """2 x = 3 has no whole answer."""
    answer = solve_mip([1], [9], [Row(3, 3, [(0, 2)])], max_nodes=1000, stopping=lambda: False)
    assert (answer.outcome, answer.values) == (Outcome.IMPOSSIBLE, ())


def test_ends_when_asked_to() -> None:
    """Market-split rows keep the engine busy for hours; a stop ends it, plan or none."""
    # Cornuejols & Dawande (1998), IPCO: coefficients drawn evenly, right-hand side half their sum
    draw = Random(1)
    rows = []
    for _ in range(5):
        entries = [(j, draw.randrange(100)) for j in range(40)]
        half = sum(entry for _, entry in entries) // 2
        rows.append(Row(half, half, entries))
    answer = solve_mip([1] * 40, [1] * 40, rows, max_nodes=10**9, stopping=lambda: True)
    assert answer.outcome is Outcome.OPEN


def test_writes_nothing(capfd: pytest.CaptureFixture[str]) -> None:
    """Standard output belongs to the program's own answer, which may be JSON."""
    solve_mip([1], [9], [Row(2, None, [(0, 1)])], max_nodes=10, stopping=lambda: False)
    assert capfd.readouterr() == ("", "")
