"""Interpreted and compiled kernel are one."""

from __future__ import annotations

import numpy as np

from nesting.solver.engine import INTERPRETED, Engine, compiled


def test_both_forms_give_the_same_numbers() -> None:
    """A plan must not depend on when the compiler was loaded."""
    draw = np.random.default_rng(5)
    sizes = draw.integers(50, 400, 12)
    values = sizes * draw.uniform(0.9, 1.1, 12)
    order = np.argsort(-values / sizes)
    answers = []
    for functions in (INTERPRETED, compiled()):
        best = np.zeros(12, np.int64)
        limits = np.full(12, 2, np.int64)
        top, ceiling, nodes = functions.price_tree(
            sizes[order], values[order], limits, 1000, 0.0, 1e-9, 10**6, best
        )
        answers.append((top, ceiling, nodes, best.tolist()))
    assert answers[0] == answers[1]


def test_a_hard_tiny_group_changes_to_machine_code_and_back_never() -> None:
    """The change hangs on leaves counted, and the answer is that of a full search."""
    compiled.cache_clear()  # as in a process that has not loaded it yet
    draw = np.random.default_rng(6)
    sizes = np.sort(draw.integers(300, 330, 14))
    values = sizes.astype(float)
    limits = np.full(14, 3, np.int64)
    slow, quick = np.zeros(14, np.int64), np.zeros(14, np.int64)
    tiny = Engine(tiny=True).price_tree(sizes, values, limits, 9999, 0.0, 0.5, nodes=50_000, best=slow)
    full = Engine(tiny=False).price_tree(sizes, values, limits, 9999, 0.0, 0.5, nodes=50_000, best=quick)
    assert tiny == full
    assert slow.tolist() == quick.tolist()


def test_a_process_that_has_the_machine_code_uses_it_for_tiny_groups_too() -> None:
    """A service solves many small groups: once loaded, the compiler costs nothing more."""
    compiled.cache_clear()
    assert Engine(tiny=True)._functions is INTERPRETED  # noqa: SLF001 (both forms answer alike)
    loaded = compiled()
    assert Engine(tiny=True)._functions is loaded  # noqa: SLF001 (as above)
