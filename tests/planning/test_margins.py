"""How far blade and bars may be off."""

from __future__ import annotations

import pytest

from nesting.batch.run import plan_request
from nesting.domain.request import Request
from nesting.domain.rules import SawRules
from nesting.domain.runs import PieceLine
from nesting.domain.stock import StockLine
from nesting.planning.margins import margins_of
from nesting.units import mm

STOCK = (StockLine(family="PLAIN", length=mm(2000)),)


def thirty(kerf: str) -> Request:
    """Give 30 pieces of 659 on bars of 2000, 8 lost at each end."""
    saw = SawRules(kerf=mm(kerf), head_trim=mm(8), tail_loss=mm(8))
    line = PieceLine(job="J", id="A", family="PLAIN", length=mm(659), quantity=30)
    return Request(piece_lines=(line,), stock=STOCK, saw=saw)


@pytest.mark.parametrize(("kerf", "bars"), [("3", 10), ("3.5", 10), ("4", 15)])
def test_the_kerf_cliff(kerf: str, bars: int) -> None:
    """Three pieces and two strokes: 16 + 1977 + 2 k <= 2000 while k <= 3.5; then only two fit."""
    (group,) = plan_request(thirty(kerf)).groups
    assert (group.totals.bars, group.proved) == (bars, True)


def test_the_margins_say_where_the_cliff_is() -> None:
    """At k 3 the blade may be 3.5 and the bars 1 mm short; at 3.5 there is nothing left of either."""
    (group,) = plan_request(thirty("3")).groups
    assert group.margins is not None
    assert (group.margins.kerf, group.margins.bar) == (mm("3.5"), mm(1))
    (tight,) = plan_request(thirty("3.5")).groups
    assert tight.margins is not None
    assert (tight.margins.kerf, tight.margins.bar) == (mm("3.5"), 0)


def test_a_bar_of_one_piece_has_no_kerf_margin() -> None:
    """One piece of 1500 needs no stroke between pieces; its bar may be 484 mm shorter."""
    request = Request(
        piece_lines=(PieceLine(job="J", id="A", family="PLAIN", length=mm(1500)),),
        stock=STOCK,
        saw=SawRules(kerf=mm(3), head_trim=mm(8), tail_loss=mm(8)),
    )
    (group,) = plan_request(request).groups
    assert group.margins is not None
    assert (group.margins.kerf, group.margins.bar) == (None, mm(484))


def test_no_bars_have_no_margins() -> None:
    """Nothing to cut cannot go wrong."""
    margins = margins_of((), SawRules(kerf=mm(3)))
    assert (margins.kerf, margins.bar) == (None, None)
