"""Packs, breaks and other terms of buying are read exactly, or refused at their place."""

from __future__ import annotations

from typing import Any

import pytest

from nesting.domain.buying import BreakScope, BuyingRules, PriceBreak
from nesting.exchange import read_request
from nesting.exchange.request_buying import BreakPart, BuyingPart
from nesting.money import Money
from tests.exchange.changed_request import changed, faults


@pytest.mark.parametrize(
    ("path", "value", "code", "at"),
    [
        ("/buying", {"fetch": None}, "not-an-amount", "/buying/fetch"),
        ("/buying", {"spares": {"share": "150 %"}}, "not-a-share", "/buying/spares/share"),
        ("/buying", {"spares": {"bars": -1}}, "out-of-range", "/buying/spares/bars"),
        ("/buying", {"budgit": 5}, "unknown-key", "/buying/budgit"),
        ("/stock/0/breaks", [{"bars": 60, "off": "lots"}], "not-a-share", "/stock/0/breaks/0/off"),
        ("/stock/0/breaks", [{"bars": 60}], "cannot-be", "/stock/0/breaks/0"),
    ],
)
def test_each_fault_is_refused_at_its_place(path: str, value: Any, code: str, at: str) -> None:
    """Terms that are misread cost money on every order."""
    assert (code, at) in faults(path, value)


def test_a_break_takes_off_a_share_or_names_a_price() -> None:
    """10 % are a thousand hundredths; what goes without saying is not written."""
    request = read_request(changed("/stock/0/breaks", [{"bars": 60, "off": "10 %"}]))
    (one,) = request.stock[0].breaks
    assert one == PriceBreak(bars=60, off=1000)
    assert BreakPart.tree(one) == {"bars": 60, "off": "10 %"}
    total = PriceBreak(bars=60, price=Money(100_000), scope=BreakScope.TOTAL)
    assert BreakPart.tree(total) == {"bars": 60, "price": "10.00", "scope": "total"}


def test_a_shop_without_terms_writes_none() -> None:
    """A first request is not to be filled with zeros."""
    assert BuyingPart.tree(BuyingRules()) == {}
