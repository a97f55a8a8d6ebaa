"""The demo groups typed as data."""

from pathlib import Path

from benchmarks.registry import case_classes


def test_the_groups_hold_the_pieces_of_the_building() -> None:
    """108 + 120 + 72 + 38 pieces; a typing slip would shift every published comparison."""
    cases = case_classes()["demo"].load(Path())
    assert [sum(case.problem.counts) for case in cases] == [108, 120, 72, 38]
    assert sum(case.best_known or 0 for case in cases) == 25_818_000  # 2 581.80
