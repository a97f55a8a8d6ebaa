"""Stock lines that can exist."""

from __future__ import annotations

from typing import Any

import pytest

from nesting.domain.buying import BreakScope, PriceBreak
from nesting.domain.stock import StockLine
from nesting.errors import ProblemError
from nesting.money import Money, read_money
from nesting.units import mm

TEN_OFF = PriceBreak(bars=60, off=1000)


def line(**terms: Any) -> StockLine:
    return StockLine(**{"family": "TOLV-17N", "length": mm(2000), "price": read_money("11.40"), **terms})


def test_a_break_gives_its_price_or_takes_a_share_off() -> None:
    """10 % off 11.40 is 10.26; a price given stands as it is."""
    assert line().price_after(TEN_OFF) == read_money("10.26")
    assert line().price_after(PriceBreak(bars=60, price=read_money("10.00"))) == read_money("10.00")


def test_breaks_are_told_apart_by_whose_bars_count() -> None:
    """A break on the total is none on the line."""
    total = PriceBreak(bars=100, off=1500, scope=BreakScope.TOTAL)
    assert line(breaks=(TEN_OFF, total)).breaks_on(BreakScope.TOTAL) == (total,)


def test_only_a_line_without_terms_is_plain() -> None:
    """Packs, minimums, breaks and bars on hand all change what the next bar costs."""
    assert line(minimum=1).plain
    for terms in ({"pack": 2}, {"minimum": 2}, {"breaks": (TEN_OFF,)}, {"on_hand": 1}):
        assert not line(**terms).plain


@pytest.mark.parametrize(
    "terms",
    [
        {"pack": 0},
        {"minimum": -1},
        {"on_hand": -1},
        {"lead_days": -1},
        {"count": 3, "on_hand": 4},
        {"price": None, "breaks": (TEN_OFF,)},
        {"breaks": (PriceBreak(bars=5, price=Money(114_001)),)},
    ],
)
def test_terms_nobody_offers_are_refused(terms: dict[str, Any]) -> None:
    """A break that makes bars dearer is a slip of the pen, and so is a share of no price."""
    with pytest.raises(ProblemError):
        line(**terms)
