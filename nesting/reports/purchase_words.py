"""The order's figures in words: terms reached, dates, what else could be bought, what the sizes rest on."""

from __future__ import annotations

from datetime import date, timedelta
from fractions import Fraction

from nesting.domain.buying import BreakScope
from nesting.domain.material import Part
from nesting.domain.plan import GroupPlan, OrderLine, Plan
from nesting.domain.status import Status
from nesting.domain.stock import StockLine
from nesting.money import money_text, percent_text
from nesting.reports.answer import amount, bars_words, share_text
from nesting.reports.lengths import METRIC, BothUnits
from nesting.reports.placed_words import reserve_words
from nesting.reports.whereabouts import numbers_words
from nesting.units import Length, mm

_NM_PER_M = 1_000_000_000
WIDEST_KERF = mm(10)
"""No blade for channel takes so much (common practice, no source): a margin above says no more."""


def stock_of(plan: Plan, line: OrderLine) -> StockLine | None:
    """Give the stock line an order line buys; None in plans that do not say."""
    if line.stock is None or not 0 <= line.stock < len(plan.request.stock):
        return None
    return plan.request.stock[line.stock]


def break_words(plan: Plan, line: OrderLine) -> str:
    """Say which price break an order line reaches: ``10 % from 60``; empty at the list price."""
    stock = stock_of(plan, line)
    if stock is None or line.listed is None:
        return ""
    reached = [one for one in stock.breaks if stock.price_after(one) == line.price]
    if not reached:
        return ""
    one = min(reached, key=lambda b: (b.scope is BreakScope.TOTAL and b.bars > line.bars, b.bars))
    said = percent_text(one.off) if one.off is not None else money_text(one.price or 0)
    return f"{said} from {one.bars}{' in all' if one.scope is BreakScope.TOTAL else ''}"


def spare_words(plan: Plan, line: OrderLine) -> str:
    """Say why more bars are ordered than needed, and where they go; empty when none are."""
    if not line.spare:
        return ""
    stock = stock_of(plan, line)
    why = []
    if stock is not None and stock.pack > 1:
        why.append(f"packs of {stock.pack}")
    if stock is not None and line.bars <= stock.minimum:
        why.append(f"at least {stock.minimum}")
    if line.listed is not None:
        why.append("the break")
    reasons = f" ({', '.join(why)})" if why else ""
    return f"{bars_words(line.spare)} to stock{reasons}"


def order_by(plan: Plan, line: OrderLine) -> str:
    """Give the last day to order so that the bars are there in time, ISO 8601; empty when unknown."""
    stock = stock_of(plan, line)
    needed = plan.request.buying.needed_by
    if not needed or stock is None or stock.lead_days is None:
        return ""
    return (date.fromisoformat(needed) - timedelta(days=stock.lead_days)).isoformat()


def line_note(plan: Plan, line: OrderLine) -> str:
    """Give everything about an order line that has no column of its own."""
    stock = stock_of(plan, line)
    lot = f"one lot, for {line.lot}" if line.lot else ""
    supplier = f"from {stock.supplier}" if stock is not None and stock.supplier else ""
    return "; ".join(part for part in (line.note, lot, supplier, spare_words(plan, line)) if part)


def alternative_words(group: GroupPlan, currency: str, lengths: BothUnits = METRIC) -> str:
    """Say what the next-best purchase is and what it costs more; empty when it was not looked for."""
    other = group.alternative
    if other is None:
        return ""
    bars = " and ".join(f"{bars_words(count)} of {lengths.said(length)}" for length, count in other.bars)
    only = "only " if len(other.bars) == 1 else ""
    more = other.cost - group.cost
    if group.priced:
        cost = f"{amount(other.cost, currency)}, {amount(more, currency) + ' more' if more else 'the same'}"
    else:
        cost = f"{bars_words(other.cost)}, {f'{more} more' if more else 'as many'}"
    proved = "" if other.proved else ", not proved least"
    return f"Next best: {only}{bars}, {cost}{proved}."


def margin_words(group: GroupPlan, lengths: BothUnits = METRIC) -> str:
    """Say how far kerf, bars and sizes may be off; empty when the plan does not say."""
    margins = group.margins
    if margins is None:
        return ""
    said = []
    if margins.kerf is not None:
        if margins.kerf > WIDEST_KERF:
            said.append(
                f"these bars hold their cuts with any blade, also with a kerf of {lengths.said(WIDEST_KERF)}"
            )
        else:
            said.append(f"these bars hold their cuts up to a kerf of {lengths.said(margins.kerf)}")
    if margins.bar is not None:
        said.append(f"every new bar may be {lengths.said(margins.bar)} short")
    why = margins.growth_open
    if margins.growth is not None:
        step = "" if margins.growth_cost is None else ", one step more costs more"
        least, but = ("", "") if why is None else ("at least ", f" ({why})")
        said.append(f"every run may grow {least}{lengths.said(margins.growth)} at no more cost{step}{but}")
    elif why is not None:
        said.append(f"how much runs may grow is not known: {why}")
    return f"Margins: {'; '.join(said)}." if said else ""


def spares_words(group: GroupPlan, lengths: BothUnits = METRIC) -> str:
    """Say which spare pieces the tails give at no extra bar; empty when none was asked for."""
    if not group.spares:
        return ""
    bars: dict[Length, list[int]] = {}
    for spare in group.spares:
        bars.setdefault(spare.length, []).append(spare.bar)
    listed = ", ".join(
        f"{len(numbers)} of {lengths.said(length)} from bar{'s' if len(set(numbers)) > 1 else ''} "
        f"{numbers_words(tuple(sorted(set(numbers))))}"
        for length, numbers in sorted(bars.items(), reverse=True)
    )
    return f"Spares from tails, at no extra bar and not in the cut list: {listed}."


def status_words(plan: Plan) -> str:
    """Say how many runs are measured, and what the others rest on; empty when all are measured."""
    counts = dict.fromkeys(Status, 0)
    for run in plan.request.runs:
        counts[run.status] += run.quantity
    for row in plan.request.piece_lines:
        counts[row.status] += row.quantity
    total = sum(counts.values())
    measured = counts[Status.MEASURED]
    if measured == total:
        return ""
    names = {Status.DRAWING: "from drawings", Status.VERIFY: "to be verified", Status.HOLD: "on hold"}
    rest = ", ".join(f"{counts[status]} {name}" for status, name in names.items() if counts[status])
    return f"{measured} of {total} sizes are measured ({share_text(measured / total)}), {rest}."


def longest_words(plan: Plan) -> str:
    """Say which bar is the longest to carry; empty when nothing is ordered."""
    bars = [line.length for line in plan.order if line.bars]
    if not bars:
        return ""
    both = BothUnits.of(plan).both(max(bars)).replace("\N{NO-BREAK SPACE}", " ")
    return f"Longest bar: {both}. Check carton, lift and stair."


def order_words(plan: Plan) -> tuple[str, ...]:
    """Say what holds for the whole order: date, least order, budget, reserve, weight, what sizes rest on."""
    needed = plan.request.buying.needed_by
    date_said = f"Bars are needed by {needed}." if needed else ""
    money = (least_order_words(plan), budget_words(plan), reserve_words(plan))
    said = (date_said, *money, longest_words(plan), weight_words(plan), status_words(plan))
    return tuple(filter(None, said))


def to_pay(plan: Plan) -> int:
    """Give what the priced lines come to, of every supplier at least its least order."""
    least = plan.request.buying.least_order
    return sum(max(ordered, least) for ordered in _by_supplier(plan).values())


def least_order_words(plan: Plan) -> str:
    """Say which suppliers charge more than their lines come to; empty when none does."""
    least, currency = plan.request.buying.least_order, plan.request.currency
    said = [
        f"{supplier or 'The supplier'} charges at least {amount(least, currency)} for an order, its lines "
        f"come to {amount(ordered, currency)}: more goods for {amount(least - ordered, currency)} cost "
        "nothing more."
        for supplier, ordered in sorted(_by_supplier(plan).items())
        if ordered < least
    ]
    if said and len({line.supplier for line in plan.request.stock}) > 1:
        said.append("Which supplier is the better buy was decided without it.")
    return " ".join(said)


def is_over(plan: Plan) -> bool:
    """Whether the priced lines come to more than the budget."""
    budget = plan.request.buying.budget
    return budget is not None and to_pay(plan) > budget


def budget_words(plan: Plan) -> str:
    """Say what is left of the budget, or how much the order is above it; empty without a budget."""
    budget, currency = plan.request.buying.budget, plan.request.currency
    if budget is None:
        return ""
    left = budget - to_pay(plan)
    unpriced = sum(line.sum is None and line.bars > 0 for line in plan.order)
    but = f", lines without a price not counted ({unpriced})" if unpriced else ""
    if left < 0:
        return f"{amount(-left, currency)} OVER the budget of {amount(budget, currency)}{but}."
    return f"{amount(left, currency)} of the budget of {amount(budget, currency)} are left{but}."


def weight_words(plan: Plan) -> str:
    """
    Say what the channel bars weigh in all, and the heaviest pack of them; empty where no weight is known.

    weight = kg/m x length x bars; ten bars of 3 m at 0.27 kg/m come to 8.1 kg (common practice, no source).
    """
    weights = {family.name: family.weight for family in plan.request.families}
    channels = [line for line in plan.order if line.part == Part.CHANNEL.value and line.bars]
    known = [(line, weight) for line in channels if (weight := weights.get(line.family)) is not None]
    if not known:
        return ""
    total = sum((weight * line.length * line.bars for line, weight in known), Fraction(0))
    packs = [(weight * line.length * _pack(plan, line), line) for line, weight in known]
    heaviest, line = max(packs, key=lambda pack: pack[0])
    pack = _pack(plan, line)
    each = f"pack ({pack} x " if pack > 1 else "bar ("
    rest = len(channels) - len(known)
    but = f"; {rest} line{'s' if rest > 1 else ''} without a known weight not counted" if rest else ""
    heavy = f"{each}{BothUnits.of(plan).said(line.length)}) weighs {_kilograms(heaviest)}"
    return f"Weight: {_kilograms(total)} in all; the heaviest {heavy}{but}."


def _kilograms(nanometre_kilograms: Fraction) -> str:
    """Give kilograms to a tenth, rounded up: nobody lifts less than was said."""
    tenths = -(-nanometre_kilograms * 10 // _NM_PER_M)
    return f"{tenths // 10}.{tenths % 10} kg"


def _pack(plan: Plan, line: OrderLine) -> int:
    stock = stock_of(plan, line)
    return min(stock.pack, line.bars) if stock is not None else 1


def _by_supplier(plan: Plan) -> dict[str, int]:
    """Give the sum of each supplier's priced lines; plans that do not say have one supplier."""
    sums: dict[str, int] = {}
    for line in plan.order:
        if line.sum is not None and line.bars:
            stock = stock_of(plan, line)
            supplier = stock.supplier if stock is not None else ""
            sums[supplier] = sums.get(supplier, 0) + line.sum
    return sums
