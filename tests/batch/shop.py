"""A small shop order, planned, and reports on it, to be planned again."""

from __future__ import annotations

from nesting.batch.replan import Replanned, replan
from nesting.batch.run import plan_request
from nesting.domain.made import BarState
from nesting.domain.plan import Plan, PlannedBar
from nesting.domain.report import BarReport, Miscut, Outcome, ShopReport
from nesting.domain.request import Request
from nesting.domain.rules import SawRules
from nesting.domain.runs import PieceLine
from nesting.domain.stock import Offcut, StockLine
from nesting.money import read_money
from nesting.units import Length, mm

SAW = SawRules(kerf=mm(3), head_trim=mm(8), tail_loss=mm(8), keep_length=mm(400), grip=mm(150))


def order(
    lengths: dict[int, int],
    *,
    bars: dict[int, str],
    offcuts: dict[str, int] | None = None,
    count: int | None = None,
) -> Request:
    """Ask for pieces (mm: how many) of one family from priced bars (mm: price) and offcuts (tag: mm)."""
    rack = tuple(Offcut(tag=t, family="F", length=mm(length)) for t, length in (offcuts or {}).items())
    lines = tuple(
        PieceLine(
            job="yard",
            id=f"L{length}" if n > 1 else f"L{length}.1",
            family="F",
            quantity=n,
            length=mm(length),
        )
        for length, n in lengths.items()
    )
    stock = tuple(
        StockLine(family="F", length=mm(length), price=read_money(price), count=count)
        for length, price in bars.items()
    )
    return Request(piece_lines=lines, stock=stock, offcuts=rack, saw=SAW, currency="XTS")


def bars_of(plan: Plan) -> dict[int, PlannedBar]:
    """Give every bar by its number."""
    return {bar.number: bar for group in plan.groups for bar in group.bars}


def bar_with(plan: Plan, piece: str) -> PlannedBar:
    """Give the bar whose good cuts hold a piece."""
    return next(bar for bar in bars_of(plan).values() if any(c.piece == piece for c in bar.good_cuts))


def done(bar: PlannedBar | int, tail: Length | None = None, **came_out: Length | None) -> BarReport:
    """Report a bar done; pieces that came out wrong by their names, ``_`` for a dot."""
    number = bar if isinstance(bar, int) else bar.number
    miscuts = tuple(Miscut(name.replace("_", "."), length) for name, length in came_out.items())
    return BarReport(bar=number, outcome=Outcome.DONE, tail=tail, miscuts=miscuts)


def report(plan: Plan, *bars: BarReport, lost: tuple[str, ...] = ()) -> ShopReport:
    """Give a report on a plan."""
    return ShopReport(plan=plan.id, bars=bars, lost=lost)


def planned(request: Request) -> Plan:
    """Plan an order."""
    return plan_request(request)


def again(plan: Plan, *bars: BarReport, freely: bool = False, lost: tuple[str, ...] = ()) -> Replanned:
    """Plan an order again after a report."""
    return replan(plan, report(plan, *bars, lost=lost), freely=freely)


def open_bars(plan: Plan) -> list[PlannedBar]:
    """Give the bars still to be cut."""
    return [bar for bar in bars_of(plan).values() if bar.state is BarState.OPEN]
