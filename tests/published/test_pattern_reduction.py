"""
Published plans with many patterns: Goulimis (2015), Pattern Reduction Test Instances v1.1 (CC0).

Needs the folder of instance files, which is no part of the project: environment variable
``NESTING_INSTANCES``, or ``../shared/instances`` beside the checkout.
"""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from benchmarks.second_goals.patterns import measure_patterns
from benchmarks.second_goals.read import PatternCase, pattern_cases

ROOT = Path(__file__).resolve().parents[2]
FOLDER = Path(os.environ.get("NESTING_INSTANCES") or ROOT.parent / "shared" / "instances")

pytestmark = pytest.mark.skipif(
    not (FOLDER / "pattern_reduction.jsonl.gz").exists(),
    reason=f"no pattern_reduction.jsonl.gz in {FOLDER}; set NESTING_INSTANCES to its folder",
)


def _case(name: str) -> PatternCase:
    found = [case for case in pattern_cases(FOLDER) if case.name == name]
    if not found:
        pytest.skip(f"{name} is not in this copy of the instances")
    return found[0]


@pytest.mark.parametrize("name", ["PR_00061", "PR_00074"])
def test_never_more_bars_and_always_fewer_patterns(name: str) -> None:
    """Two small plans: bars, pieces and limits are kept, checked without the engine."""
    row = measure_patterns(_case(name), rounds=2, seed=0)
    assert row.faults == ()
    assert row.bars <= row.bars_before
    assert row.patterns < row.patterns_before


def test_a_value_called_attainable_is_attained() -> None:
    """12 patterns are known for this plan of 18 (the source's description); it stands for the table."""
    row = measure_patterns(_case("PR_00113"), rounds=12, seed=0)
    assert row.faults == ()
    assert row.best_known == 12
    assert row.patterns <= 12
