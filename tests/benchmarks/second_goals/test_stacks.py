"""Measuring open stacks."""

from dataclasses import replace
from pathlib import Path

import pytest

from benchmarks.second_goals import stacks
from benchmarks.second_goals.read import stacks_case
from benchmarks.second_goals.stacks import measure_stacks, run_stacks, stacks_table
from nesting.planning.open_units import OpenUnits
from tests.benchmarks.second_goals.records import STACKS

CASE = stacks_case(STACKS)


def test_a_table_with_its_summary(tmp_path: Path) -> None:
    """The value is counted again from the order."""
    (row,) = run_stacks([CASE], max_nodes=100, out=tmp_path, say=lambda text: None)
    assert (row.value, row.bound, row.customers, row.products) == (2, 2, 3, 3)
    assert "1 of 1 optima found, 1 proved" in (tmp_path / "stacks.md").read_text(encoding="utf-8")
    assert "0 of 1 optima found" in stacks_table([replace(row, value=3)])


@pytest.mark.parametrize(("order", "value"), [((0, 0, 1), 2), ((0, 1, 2), 9)])
def test_an_order_that_lies_is_refused(
    order: tuple[int, ...], value: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A product twice, or a count that the order does not have."""
    lie = OpenUnits(order=order, value=value, lower_bound=1)
    monkeypatch.setattr(stacks, "order_for_open_units", lambda *_, **__: lie)
    with pytest.raises(ValueError, match="chain"):
        measure_stacks(CASE, max_nodes=1)
