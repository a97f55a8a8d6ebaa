"""Whether the order buys exactly the new bars, and the jobs pay for exactly what they use."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping

from nesting.domain.plan import GroupPlan, OrderLine, Plan
from nesting.domain.stock import StockLine
from nesting.money import PER_UNIT
from nesting.verify.bill import Bills, Key, key_of, lines_of, unlawful
from nesting.verify.replanned import metal_of_cut
from nesting.verify.violation import Violation, in_mm, in_money
from nesting.verify.walk import walk

_HUNDREDTH = PER_UNIT // 100


def order_violations(plan: Plan) -> Iterator[Violation]:
    """Give the bars that are ordered too often, too rarely, at a wrong price or as nobody sells them."""
    positions = Bills(plan).positions
    seen: Counter[Key] = Counter()
    for order in plan.order:
        key = key_of(plan, order)
        if key is None:
            yield Violation(
                "order-count",
                place_of(order),
                f"{words_of(order)} at {_money(order.price)}: nothing is offered so.",
            )
            continue
        seen[key] += 1
        if seen[key] == 2:
            yield Violation("order-count", place_of(order), f"{words_of(order)}: ordered in two lines.")
        position = positions[key]
        if order.needed != position.opened:
            yield Violation(
                "order-count",
                place_of(order),
                f"{words_of(order)}: {order.needed} bars are said to be needed, {position.opened} are cut.",
            )
        for wrong in unlawful(plan, order, position.line):
            yield Violation("order-terms", place_of(order), f"{words_of(order)}: {wrong}.")
        if order.price != position.unit:
            yield Violation(
                "order-price",
                place_of(order),
                f"{words_of(order)}: {_money(position.unit)} a bar is due for {order.bars} bars, the order "
                f"says {_money(order.price)}.",
            )
        due = None if order.price is None else order.price * order.bars
        if order.sum != due:
            yield Violation(
                "order-sum",
                place_of(order),
                f"{words_of(order)}: {order.bars} bars at {_money(order.price)} are {_money(due)}, "
                f"the order says {_money(order.sum)}.",
            )
    for key in sorted(positions.keys() - seen.keys()):
        lot, index = key
        words = _named(plan.request.stock[index], lot)
        opened = positions[key].opened
        yield Violation("order-count", f"order {words}", f"{words}: {opened} bars are cut, none is ordered.")
    yield from _limits(plan)
    yield from _reserve(plan)


def _limits(plan: Plan) -> Iterator[Violation]:
    """Give the lines of which more is ordered, over all lots, than can be had."""
    ordered: Counter[int] = Counter()
    for order in plan.order:
        key = key_of(plan, order)
        if key is not None:
            ordered[key[1]] += order.bars
    for index, bars in sorted(ordered.items()):
        line = plan.request.stock[index]
        if line.count is not None and bars > line.count - line.on_hand:
            yield Violation(
                "stock-count",
                f"stock line {index + 1}",
                f"Stock line {index + 1}: {bars} bars are ordered, {line.count - line.on_hand} can be had.",
            )


def _reserve(plan: Plan) -> Iterator[Violation]:
    """
    Give the groups whose order holds too small a reserve, or one too short for their pieces.

    Bars of a reserve that an earlier plan ordered may be cut, and were chosen for the pieces known then. Of
    how many bars a share was taken this plan does not say; `ordered_violations` holds it to the earlier.
    """
    spares = plan.request.buying.spares
    for order in plan.order:
        if not 0 <= order.reserve_used <= min(order.needed, order.ordered + order.on_hand):
            yield Violation(
                "reserve",
                place_of(order),
                f"{words_of(order)}: {order.reserve_used} bars of the reserve are said to be used; "
                f"{order.needed} bars are cut, {order.ordered} were ordered before.",
            )
    for group in plan.groups:
        opened = sum(bool(lines_of(plan.request, group, bar.source)) for bar in group.bars)
        share = -(-opened * spares.share // 10_000)
        longest = max((cut.length for bar in group.bars for cut in bar.cuts), default=0)
        held = ordered = 0
        for order in plan.order:
            material = group.material
            same = (order.family, order.finish, order.part, order.lot) == (
                material.family,
                material.finish,
                material.part.value,
                material.lot,
            )
            before = order.ordered + order.reserve_used
            ordered += before if same else 0
            holds_any = order.length - group.saw.head_trim - group.saw.tail_loss >= longest
            if same and (holds_any or before):
                held += order.reserve + order.reserve_used
        wanted = max(spares.bars, 0 if ordered else share) if opened else 0
        if held < wanted:
            yield Violation(
                "reserve",
                f"material {group.material}",
                f"{group.material}: {held} bars of reserve can become any piece, {wanted} are wanted.",
            )


def job_violations(plan: Plan) -> Iterator[Violation]:
    """Give the jobs whose share of pieces, metal or money is not what their pieces take."""
    job_of = {piece.id: piece.job for piece in plan.pieces}
    pieces: Counter[str] = Counter()
    good: Counter[str] = Counter()
    shares: defaultdict[str, _Range] = defaultdict(_Range)
    costs: defaultdict[str, _Range] = defaultdict(_Range)
    spent = used_up = 0
    bills = Bills(plan)
    for group in plan.groups:
        # A plan that only counts bars shares no money.
        charged = (bills.by_bars(group) if group.priced else None) or {}
        spent += (bills.paid(group) or 0) if group.priced else 0
        for bar in group.bars:
            takes: Counter[str] = Counter()
            spoiled = {one.piece for one in bar.spoiled}
            for cut in bar.cuts:
                job = job_of.get(cut.piece, "")
                # Who had a piece spoiled pays for it all the same, but has it once only.
                takes[job] += cut.length
                pieces[job] += cut.piece not in spoiled
                good[job] += cut.length * (cut.piece not in spoiled)
            if not bar.cuts:
                takes = _takes_of_all(group, job_of)
            true = walk(bar, group.saw, group.mitre)
            kept = true.tail if true.tail and true.tail >= group.saw.keep_length else 0
            if bar.state.cut:
                kept = metal_of_cut(group, bar)["returned"]
            low, high = charged.get(bar.number, (0, 0))
            used_up += bar.length - kept
            for job, taken in takes.items():
                kept_away = bar.length - kept
                shares[job].add(kept_away, kept_away, taken, takes.total())
                costs[job].add(low, high, taken, takes.total())
    named: Counter[str] = Counter(share.job for share in plan.jobs)
    for job in sorted(pieces.keys() | named.keys()):
        if named[job] != 1 and (pieces[job] or named[job] > 1):
            yield Violation("job-share", f"job {job}", f"Job {job} has {named[job]} shares; one is due.")
    for share in plan.jobs:
        for word, said, lowest, highest, text in (
            ("pieces", share.pieces, pieces[share.job], pieces[share.job], str),
            ("good", share.good, good[share.job], good[share.job], in_mm),
            ("consumed", share.consumed, shares[share.job].low, shares[share.job].high, in_mm),
            (
                "cost",
                int(share.cost),
                *costs[share.job].for_money(share.cost, spent),
                in_money,
            ),
        ):
            if not lowest <= said <= highest:
                yield Violation(
                    "job-share",
                    f"job {share.job}",
                    f"Job {share.job}: {word} is given as {text(said)}, its pieces take {text(lowest)}"
                    + (f" to {text(highest)}." if highest > lowest else "."),
                )
    for word, said, due, text in (
        ("cost", sum(int(share.cost) for share in plan.jobs), spent, in_money),
        ("consumed", sum(share.consumed for share in plan.jobs), used_up, in_mm),
    ):
        if said != due:
            yield Violation(
                "job-sum", "jobs", f"The jobs' {word} adds up to {text(said)}, the bars come to {text(due)}."
            )


def _takes_of_all(group: GroupPlan, job_of: Mapping[str, str]) -> Counter[str]:
    """Weigh the jobs by all they take of a material, for a bar that nothing was cut from."""
    takes: Counter[str] = Counter()
    for bar in group.bars:
        for cut in bar.cuts:
            takes[job_of.get(cut.piece, "")] += cut.length
    return takes


class _Range:
    """Whole amounts that a proportional share may be rounded to, bar by bar."""

    def __init__(self) -> None:
        self.low = self.high = 0

    def add(self, low: int, high: int, part: int, whole: int) -> None:
        if whole > 0:
            self.low += low * part // whole
            self.high += -(-high * part // whole)

    def for_money(self, said: int, spent: int) -> tuple[int, int]:
        """Give the lowest and highest share: money of whole hundredths may be shared in whole hundredths."""
        coarse = _HUNDREDTH - 1 if spent % _HUNDREDTH == said % _HUNDREDTH == 0 else 0
        return self.low - coarse, self.high + coarse


def place_of(order: OrderLine) -> str:
    """Say which line of the order is meant, as the place of a violation."""
    return f"order {words_of(order)}"


def words_of(order: OrderLine) -> str:
    """Name an order line by material, lot and length."""
    named = " ".join(word for word in (order.family, order.finish, order.part) if word)
    return f"{named}{f', lot {order.lot}' if order.lot else ''}, {in_mm(order.length)}"


def _named(line: StockLine, lot: str) -> str:
    named = " ".join(word for word in (line.family, line.finish, line.part.value) if word)
    return f"{named}{f', lot {lot}' if lot else ''}, {in_mm(line.length)}"


def _money(amount: int | None) -> str:
    return "no price" if amount is None else in_money(amount)
