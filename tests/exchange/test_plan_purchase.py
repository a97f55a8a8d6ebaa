"""The order and its next-best purchase keep lengths, bars and prices in a document."""

from __future__ import annotations

from typing import Any

import pytest

from nesting.domain.plan import Alternative
from nesting.exchange.plan_purchase import AlternativePart
from nesting.units import mm
from tests.exchange.changed_plan import faults


@pytest.mark.parametrize(
    ("path", "value", "code", "at"),
    [
        ("/jobs/0/cost", None, "not-an-amount", "/jobs/0/cost"),
        ("/order/0/price", "much", "not-an-amount", "/order/0/price"),
    ],
)
def test_each_fault_is_refused_at_its_place(path: str, value: Any, code: str, at: str) -> None:
    """An amount that is not understood must not become nothing."""
    assert (code, at) in faults(path, value)


def test_the_next_best_purchase_names_length_and_bars() -> None:
    """A pair of numbers would leave the reader to guess which is the length."""
    ten = Alternative(bars=((mm(2000), 10),), cost=640_000, proved=True)
    tree = AlternativePart.tree(ten)
    assert tree["bars"] == [{"length_nm": 2_000_000_000, "length_mm": "2000", "bars": 10}]
    assert AlternativePart.model_validate(tree).to_domain() == ten
