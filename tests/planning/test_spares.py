"""Spare pieces that cost no extra bar."""

from __future__ import annotations

from dataclasses import replace

from nesting.batch.run import plan_request
from nesting.domain.buying import BuyingRules, Spares
from nesting.domain.plan import SpareCut
from nesting.domain.request import Request
from nesting.domain.rules import SawRules
from nesting.domain.runs import PieceLine
from nesting.domain.stock import StockLine
from nesting.units import mm

# One bar of 2000 takes 900 + 3 + 300 + 3 + 300: 1506 of 1984, so 475 are left behind the last stroke.
REQUEST = Request(
    piece_lines=(
        PieceLine(job="J", id="A", family="PLAIN", length=mm(900)),
        PieceLine(job="J", id="B", family="PLAIN", length=mm(300), quantity=2),
    ),
    stock=(StockLine(family="PLAIN", length=mm(2000)),),
    saw=SawRules(kerf=mm(3), head_trim=mm(8), tail_loss=mm(8)),
    buying=BuyingRules(spares=Spares(from_tails=True)),
)


def test_a_tail_gives_a_spare_of_what_is_cut_most() -> None:
    """The tail of 483 holds a 300 and 8 at its raw end, not a 900; no bar more is opened."""
    (group,) = plan_request(REQUEST).groups
    assert group.spares == (SpareCut(1, mm(300)),)
    assert group.totals.bars == 1


def test_more_spares_need_a_share_and_room() -> None:
    """A share of 100 % wants two spares of the two 300s, but 483 - 303 holds no second one."""
    shared = replace(REQUEST, buying=BuyingRules(spares=Spares(share=10_000, from_tails=True)))
    (group,) = plan_request(shared).groups
    assert [spare.length for spare in group.spares] == [mm(300)]


def test_nobody_asked_no_spares() -> None:
    """Without the wish a tail stays what it is."""
    assert plan_request(replace(REQUEST, buying=BuyingRules())).groups[0].spares == ()


def test_a_tail_that_just_holds_a_spare_gives_it() -> None:
    """A bar of 1817 leaves 1817 - 8 - 1506 - 3 = 300 behind the stroke, 8 short of 308; 1825 is enough."""
    for length, spares in ((1824, 0), (1825, 1)):
        request = replace(REQUEST, stock=(StockLine(family="PLAIN", length=mm(length)),))
        assert len(plan_request(request).groups[0].spares) == spares
