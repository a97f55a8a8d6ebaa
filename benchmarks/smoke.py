"""Build and solve one tiny case of every registered class."""

from __future__ import annotations

from collections.abc import Callable

from benchmarks.engine import Engine, ours
from benchmarks.quality.measure import measure
from benchmarks.registry import case_classes


def run_smoke(*, engine: Engine = ours, say: Callable[[str], None] = lambda text: None) -> tuple[str, ...]:
    """Give what went wrong, one line a class; empty when every class can be built, solved and checked."""
    failed = []
    for name, case_class in case_classes().items():
        case = case_class.tiny()
        row = measure(case, name, engine=engine, time_limit=30, seed=1, revision="smoke", fresh=False)
        say(f"{name}: {row.value} ({row.ended})")
        if row.value is None or row.against == "worse":
            failed.append(f"{name}: value {row.value}, known {row.best_known}, {row.ended}")
    return tuple(failed)
