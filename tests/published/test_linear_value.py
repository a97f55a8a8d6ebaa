"""
How closely the linear programme is solved where bars are many and nothing may be wasted.

Needs the folder of instance files, which is no part of the project: environment variable
``NESTING_INSTANCES``, or ``../shared/instances`` beside the checkout.
"""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from benchmarks.registry import case_classes
from nesting.solver.master import ROUNDING
from tests.solver.bench import bench

ROOT = Path(__file__).resolve().parents[2]
FOLDER = Path(os.environ.get("NESTING_INSTANCES") or ROOT.parent / "shared" / "instances")


@pytest.mark.skipif(
    not (FOLDER / "ai.jsonl.gz").exists(), reason=f"no ai.jsonl.gz in {FOLDER}; set NESTING_INSTANCES"
)
def test_a_full_optimum_is_close_enough_for_dives_to_read_it() -> None:
    """132 full bars: a value 5e-6 too high looks like a 133rd bar, and every dive fails at its first bar."""
    cases = [case for case in case_classes()["ai"].load(FOLDER) if case.name == "402_10000_DI_1"]
    if not cases:
        pytest.skip("the file does not hold 402_10000_DI_1")
    master = bench(cases[0].problem, tiny=False).master
    master.solve(full=True)
    assert master.value <= 132 + ROUNDING
