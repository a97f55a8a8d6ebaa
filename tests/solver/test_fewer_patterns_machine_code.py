"""Machine code on disk is as new as everything that went into it."""

from __future__ import annotations

import importlib
import sys
from pathlib import Path

import pytest

from nesting.solver.fewer_patterns_machine_code import machine_code

CALLED = """
from nesting.solver.fewer_patterns_machine_code import machine_code

@machine_code()
def worth(n):
    return n * {factor}
"""
BETWEEN = """
from {called} import worth
from nesting.solver.fewer_patterns_machine_code import machine_code

@machine_code(worth)
def more(n):
    return worth(n) + 1
"""
CALLING = """
from {between} import more
from nesting.solver.fewer_patterns_machine_code import machine_code

@machine_code(more)
def most(n):
    return more(n)
"""


def test_a_loop_in_machine_code_gives_what_it_says() -> None:
    """Three times the number, and known to the compiler."""
    thrice = machine_code()(lambda n: 3 * n)
    assert thrice(7) == 21
    assert hasattr(thrice, "py_func")


def test_a_change_in_another_file_is_not_missed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The compiler keeps a copy of what a loop calls; after an update no process may run the old copy."""
    names = {"called": "loop_called", "between": "loop_between", "calling": "loop_calling"}
    (tmp_path / "loop_between.py").write_text(BETWEEN.format(**names))
    (tmp_path / "loop_calling.py").write_text(CALLING.format(**names))
    monkeypatch.syspath_prepend(tmp_path)

    def answer(factor: int) -> int:
        """Load the three modules as a new process does, with the factor in the first of them."""
        (tmp_path / "loop_called.py").write_text(CALLED.format(factor=factor))
        for name in names.values():
            sys.modules.pop(name, None)
        importlib.invalidate_caches()
        return int(importlib.import_module("loop_calling").most(2))

    try:
        # Of another size each, so that no clock is needed to tell the files apart.
        assert [answer(5), answer(50)] == [2 * 5 + 1, 2 * 50 + 1]
        assert len(list(tmp_path.glob("__pycache__/loop_calling.most_*.nbi"))) == 2
    finally:
        for name in names.values():
            sys.modules.pop(name, None)
