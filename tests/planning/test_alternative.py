"""The purchase one would make without a planner, to weigh against the plan's."""

from __future__ import annotations

from dataclasses import replace

from nesting.batch.split import split
from nesting.domain.material import Material, Part
from nesting.domain.pieces import Piece
from nesting.domain.request import Request
from nesting.domain.rules import SawRules
from nesting.domain.stock import StockLine
from nesting.money import read_money
from nesting.planning.alternative import next_best, restricted
from nesting.planning.group import Group
from nesting.planning.settle import settle
from nesting.units import mm

MATERIAL = Material("BRASK-20F", "", Part.CHANNEL)
STOCK = (
    StockLine(family="BRASK-20F", length=mm(2000), price=read_money("12.80")),
    StockLine(family="BRASK-20F", length=mm(3000), price=read_money("18.60")),
)
SAW = SawRules(kerf=mm(3), head_trim=mm(8), tail_loss=mm(8))
# The demo's BRASK-20F.
PIECES = {1176: 12, 976: 38, 776: 22, 416: 48}


def group(stock: tuple[StockLine, ...] = STOCK) -> Group:
    pieces = [
        Piece(id=f"{n}.{i}", job="J", run=str(n), material=MATERIAL, length=mm(n), exact=mm(n))
        for n, count in PIECES.items()
        for i in range(count)
    ]
    return split(Request(stock=stock, saw=SAW), pieces).chains[0][0]


def test_the_better_single_length_is_named_with_its_price() -> None:
    """2 x 2000 + 29 x 3000 cost 565.00; 31 of 3000 alone 576.60, 47 of 2000 alone 601.60."""
    other = next_best(settle(group()))
    assert other is not None
    assert (other.bars, other.cost, other.proved) == (((mm(3000), 31),), read_money("576.60"), True)


def test_one_length_has_no_alternative() -> None:
    """There is nothing else to buy."""
    assert next_best(settle(group(STOCK[1:]))) is None


def test_a_length_that_cannot_hold_the_longest_piece_is_no_choice() -> None:
    """Bars of 1000 give no 1176."""
    short = replace(STOCK[0], length=mm(1000))
    assert restricted(group((short, STOCK[1])), [mm(1000)]) is None
    assert restricted(group((short, STOCK[1])), [mm(3000)]) is not None
