"""Order books made from a seed: many materials of made-to-measure pieces."""

from __future__ import annotations

from benchmarks.cases.shop import shop_group
from nesting.domain.material import Family
from nesting.domain.request import Request
from nesting.domain.rules import SawRules
from nesting.domain.runs import PieceLine
from nesting.domain.stock import StockLine
from nesting.units import mm

_LINE = 5
"""Most pieces one line of a piece list asks for; runs repeat a few times a plan type."""


def order_book(*, materials: int, pieces: int, lengths: int, seed: int = 1) -> Request:
    """
    Give a request of so many materials with 6 m bars.

    Parameters
    ----------
    pieces
        Pieces in all, divided evenly over the materials; the first ones get what does not divide.
    lengths
        Distinct lengths in each material.
    """
    lines, stock, families = [], [], []
    for number in range(materials):
        family = f"family {number + 1:03}"
        share = pieces // materials + (1 if number < pieces % materials else 0)
        group = shop_group(lengths, share, seed=seed * 1_000 + number)
        families.append(Family(name=family))
        stock.append(StockLine(family=family, finish="natural", length=group.bars[0].length))
        for index, (length, count) in enumerate(zip(group.lengths, group.counts, strict=True)):
            for start in range(0, count, _LINE):
                lines.append(
                    PieceLine(
                        job="book",
                        id=f"{number + 1:03}-{index + 1}-{start // _LINE + 1}",
                        family=family,
                        finish="natural",
                        quantity=min(_LINE, count - start),
                        length=length,
                    )
                )
    return Request(
        title=f"{pieces} pieces in {materials} materials",
        piece_lines=tuple(lines),
        families=tuple(families),
        stock=tuple(stock),
        saw=SawRules(kerf=mm(3), head_trim=mm(8), tail_loss=mm(8), keep_length=mm(400)),
    )
