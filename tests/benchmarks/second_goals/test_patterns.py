"""Measuring fewer patterns."""

from dataclasses import replace
from pathlib import Path

import pytest

from benchmarks.second_goals import patterns
from benchmarks.second_goals.patterns import measure_patterns, pattern_table, run_patterns
from benchmarks.second_goals.read import pattern_case
from nesting.domain.packing import Packing, PatternUse
from tests.benchmarks.second_goals.records import PATTERNS

CASE = pattern_case(PATTERNS)


def test_a_table_with_its_circumstances(tmp_path: Path) -> None:
    """Equal patterns of the plan given count once, and the summary says what was reached."""
    said: list[str] = []
    (row,) = run_patterns([CASE], rounds=1, seed=0, out=tmp_path, say=said.append)
    assert (row.patterns_before, row.patterns, row.bars, row.faults) == (2, 2, 3, ())
    table = (tmp_path / "patterns.md").read_text(encoding="utf-8")
    assert "at least as few as known in 1 of 1; 0 with a fault" in table
    assert "| tiny | 3 | 3 | 2 | 2 | 2 |" in table
    assert said == [f"tiny: 2 -> 2 patterns (known 2), 3 bars, {row.seconds:.1f} s"]


def test_the_own_check_names_every_fault(monkeypatch: pytest.MonkeyPatch) -> None:
    """An engine that opens more bars, or breaks a limit, is told so."""
    scattered = Packing(
        (PatternUse(0, ((0, 1), (2, 1)), 1), PatternUse(0, ((0, 1),), 1), PatternUse(0, ((1, 2),), 1)),
        (0,) * 3,
    )
    more = replace(scattered, uses=(*scattered.uses, PatternUse(0, ((2, 1),), 1)))
    monkeypatch.setattr(patterns, "fewer_patterns", lambda *_, **__: more)
    row = measure_patterns(CASE, rounds=1, seed=0)
    assert row.faults == ("pattern 2 fills too little", "pattern 4 fills too little", "4 bars, 3 before")
    assert "1 with more bars" in pattern_table([row], rounds=1, seed=0)
