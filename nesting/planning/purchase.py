"""What to order, and which job pays which share of it."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from fractions import Fraction

from nesting.domain.material import Part
from nesting.domain.pieces import Piece
from nesting.domain.plan import GroupPlan, JobShare, OrderLine, PlannedBar
from nesting.domain.request import Request
from nesting.domain.stock import StockLine
from nesting.money import NO_MONEY, Money
from nesting.planning.group import stock_index
from nesting.units import Length


def covers_listed(request: Request, family: str, finish: str) -> tuple[StockLine, ...]:
    """Give the cover bars on offer for a family and finish; none means they come with the channel."""
    return tuple(
        line
        for line in request.stock
        if line.part is Part.COVER and line.family == family and line.finish == finish
    )


def order_lines(request: Request, groups: Sequence[GroupPlan]) -> tuple[OrderLine, ...]:
    """
    Give the new bars to buy, one line per family, finish, part, lot and length.

    A group whose cover is cut together needs as many cover bars as channel bars, of the same
    lengths: a line of their own when covers are listed, else a note on the channel's line.
    """
    needed: Counter[tuple[str, str, str, str, Length, Money | None, str]] = Counter()
    for group in groups:
        material = group.material
        covers = covers_listed(request, material.family, material.finish) if group.cover_follows else ()
        note = "with its cover" if group.cover_follows and not covers else ""
        for bar in group.bars:
            index = stock_index(bar.source)
            if bar.offcut or index is None:
                continue
            line = request.stock[index]
            lot = material.lot
            needed[material.family, material.finish, line.part.value, lot, line.length, line.price, note] += 1
            cover = next((c for c in covers if c.length == line.length), None)
            if cover:
                key = (material.family, material.finish, cover.part.value, lot, cover.length, cover.price, "")
                needed[key] += 1
    lines = []
    for (family, finish, part, lot, length, price, note), bars in needed.items():
        total = None if price is None else Money(price * bars)
        lines.append(
            OrderLine(
                family=family,
                finish=finish,
                part=part,
                lot=lot,
                length=length,
                bars=bars,
                price=price,
                sum=total,
                note=note,
            )
        )
    return tuple(sorted(lines, key=lambda o: (o.family, o.finish, o.part, o.lot, o.length, o.price or 0)))


def job_shares(
    groups: Sequence[GroupPlan], pieces: Sequence[Piece], bar_costs: Mapping[int, Money]
) -> tuple[JobShare, ...]:
    """
    Share every bar among the jobs by the length their pieces take from it.

    Whole nanometres and whole units of money are handed out by largest remainder, so the shares of
    each bar add up exactly.

    Parameters
    ----------
    bar_costs
        Money each bar number costs; bars without a price are missing.
    """
    job_of = {piece.id: piece.job for piece in pieces}
    count: Counter[str] = Counter()
    good: Counter[str] = Counter()
    consumed: Counter[str] = Counter()
    cost: Counter[str] = Counter()
    for group in groups:
        for bar in group.bars:
            weights: defaultdict[str, int] = defaultdict(int)
            for cut in bar.cuts:
                weights[job_of[cut.piece]] += cut.length
            for cut in bar.good_cuts:
                good[job_of[cut.piece]] += cut.length
                count[job_of[cut.piece]] += 1
            if not weights:  # a bar given up before its first cut is everybody's
                for other in group.bars:
                    for cut in other.cuts:
                        weights[job_of[cut.piece]] += cut.length
            consumed.update(share_out(_used_up(bar), weights))
            cost.update(share_out(bar_costs.get(bar.number, NO_MONEY), weights))
    return tuple(
        JobShare(job=job, pieces=count[job], good=good[job], consumed=consumed[job], cost=Money(cost[job]))
        for job in sorted(count)
    )


def share_out(amount: int, weights: Mapping[str, int]) -> dict[str, int]:
    """Split a whole amount in proportion to weights by largest remainder, ties by name."""
    total = sum(weights.values())
    exact = {name: Fraction(amount * weight, total) for name, weight in weights.items()}
    shares = {name: value.numerator // value.denominator for name, value in exact.items()}
    by_remainder = sorted(weights, key=lambda name: (shares[name] - exact[name], name))
    for name in by_remainder[: amount - sum(shares.values())]:
        shares[name] += 1
    return shares


def _used_up(bar: PlannedBar) -> int:
    return int(bar.length) - bar.returned
