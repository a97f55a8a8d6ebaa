"""Yield and waste mean what the README says, and accounts add up to the nanometre."""

from __future__ import annotations

import pytest

from nesting.domain.totals import Totals
from nesting.units import mm

# used 2000 = good 1300 + kerf 6 + trim 8 + returned 600 + scrap 86
ONE = Totals(bars=1, used=mm(2000), good=mm(1300), kerf=mm(6), trim=mm(8), returned=mm(600), scrap=mm(86))


def test_yield_counts_what_is_used_up() -> None:
    """1300 of 2000 - 600: what goes back to the rack is not used up."""
    assert ONE.yield_share == pytest.approx(1300 / 1400)


def test_waste_is_chips_trim_and_scrap() -> None:
    """6 + 8 + 86 of 2000."""
    assert ONE.waste_share == pytest.approx(0.05)


def test_nothing_used_has_neither() -> None:
    """A plan that leaves everything out still has a page to fill."""
    assert (Totals().yield_share, Totals().waste_share) == (0.0, 0.0)
    # A bar of which all went back: nothing was used up, so there is no yield.
    assert Totals(bars=1, used=5, returned=5).yield_share == 0.0


def test_accounts_add_up_figure_by_figure() -> None:
    """The sum of closed accounts is closed."""
    both = ONE + Totals(bars=2, used=70, good=50, kerf=1, trim=2, returned=3, scrap=14)
    assert both == Totals(
        bars=3, used=mm(2000) + 70, good=mm(1300) + 50, kerf=mm(6) + 1, trim=mm(8) + 2,
        returned=mm(600) + 3, scrap=mm(86) + 14,
    )  # fmt: skip
    assert both.used == both.good + both.kerf + both.trim + both.returned + both.scrap
