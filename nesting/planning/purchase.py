"""What to order, and which job pays which share of it."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction

from nesting.domain.pieces import Piece
from nesting.domain.plan import GroupPlan, JobShare, OrderLine, PlannedBar
from nesting.domain.request import Request
from nesting.domain.stock import StockLine
from nesting.money import NO_MONEY, PER_UNIT, Money
from nesting.planning.settle import Settled, opened
from nesting.planning.supply import covers_listed as covers_on_offer

HUNDREDTH = PER_UNIT // 100


def covers_listed(request: Request, family: str, finish: str) -> tuple[StockLine, ...]:
    """Give the cover bars on offer for a family and finish; none means they come with the channel."""
    return tuple(line for _, line in covers_on_offer(request, family, finish))


def order_lines(request: Request, settled: Sequence[Settled]) -> tuple[OrderLine, ...]:
    """
    Give the new bars to buy, one line per material and stock length.

    A group whose cover is cut together needs as many cover bars as channel bars, of the same
    lengths: a line of their own when covers are listed, else a note on the channel's line.
    """
    lines = []
    for one in settled:
        group = one.group
        needs = group.market.needs(opened(group, one.result))
        with_cover = group.cover_follows and not covers_listed(
            request, group.material.family, group.material.finish
        )
        for offer, need, deal in zip(group.market.offers, needs, one.bill.deals, strict=False):
            if deal.bars or deal.hand:
                line = request.stock[offer.line]
                known = group.priced or line.price is not None
                price = Money(deal.unit) if group.priced else line.price
                lines.append(
                    OrderLine(
                        family=line.family,
                        finish=line.finish,
                        part=line.part.value,
                        lot=group.material.lot,
                        length=line.length,
                        bars=deal.bars,
                        price=price,
                        sum=Money(deal.bars * price) if known and price is not None else None,
                        note="with its cover" if with_cover else "",
                        stock=offer.line,
                        on_hand=deal.hand,
                        reserve=offer.reserve_at(need),
                        spare=deal.bars + deal.hand - offer.needed(need),
                        listed=line.price if line.price != price else None,
                    )
                )
    return in_order(lines)


def in_order(lines: Iterable[OrderLine]) -> tuple[OrderLine, ...]:
    """Give order lines by material, then by length."""
    return tuple(sorted(lines, key=lambda o: (o.family, o.finish, o.part, o.lot, o.length, o.stock or 0)))


def bar_costs(settled: Settled, bars: Sequence[PlannedBar]) -> dict[int, Money]:
    """
    Give what each bar of a group costs, so that all together cost what is really paid.

    What a stock line comes to, spare and reserve included, is spread evenly over the bars opened of it,
    one ten-thousandth more on the first ones where it does not come out; a line nothing is opened
    of, over all bars of the group.
    """
    group = settled.group
    if not group.priced:
        return {}
    charges = {bar.key: bar.cost for bar in group.problem.bars}
    costs = {bar.number: charges[bar.source] if bar.offcut else 0 for bar in bars}
    kinds = {group.problem.bars[k].key: uses for k, uses in enumerate(group.market.uses)}
    for o, deal in enumerate(settled.bill.deals):
        payers = [bar.number for bar in bars if not bar.offcut and o in kinds[bar.source]]
        payers = payers or [bar.number for bar in bars]
        for place, number in enumerate(payers):
            costs[number] += deal.cost // len(payers) + (place < deal.cost % len(payers))
    return {number: Money(cost) for number, cost in costs.items()}


def job_shares(
    groups: Sequence[GroupPlan], pieces: Sequence[Piece], bar_costs: Mapping[int, Money]
) -> tuple[JobShare, ...]:
    """
    Share every bar among the jobs by the length their pieces take from it.

    Whole nanometres are handed out bar by bar, money for all bars together, both by largest remainder,
    so the sums are exact. Money is handed out in whole hundredths when all of it comes to whole
    hundredths, so that no job is billed a part of the smallest coin.

    Parameters
    ----------
    bar_costs
        Money each bar number costs; bars without a price are missing.
    """
    job_of = {piece.id: piece.job for piece in pieces}
    count: Counter[str] = Counter()
    good: Counter[str] = Counter()
    consumed: Counter[str] = Counter()
    cost: defaultdict[str, Fraction] = defaultdict(Fraction)
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
            whole = sum(weights.values())
            for job, weight in weights.items():
                cost[job] += Fraction(bar_costs.get(bar.number, NO_MONEY) * weight, whole)
    money = round_shares({job: cost[job] for job in sorted(consumed)})
    return tuple(
        JobShare(job=job, pieces=count[job], good=good[job], consumed=consumed[job], cost=Money(money[job]))
        for job in sorted(consumed)
    )


def round_shares(exact: Mapping[str, Fraction]) -> dict[str, int]:
    """
    Round shares of a whole amount of money by largest remainder, ties by name; the sum stays what it is.

    Parameters
    ----------
    exact
        Exact shares in ten-thousandths; they come to a whole number of them.

    Returns
    -------
    Whole hundredths of the currency (100 ten-thousandths) when the sum is such, else ten-thousandths.
    """
    total = sum(exact.values(), Fraction(0))
    unit = HUNDREDTH if total % HUNDREDTH == 0 else 1
    shares = {name: value // unit * unit for name, value in exact.items()}
    by_remainder = sorted(exact, key=lambda name: (shares[name] - exact[name], name))
    for name in by_remainder[: (int(total) - sum(shares.values())) // unit]:
        shares[name] += unit
    return shares


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
