"""Whether the order buys exactly the new bars, and the jobs pay for exactly what they use."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping

from nesting.domain.plan import GroupPlan, Plan
from nesting.domain.stock import Offcut, StockLine
from nesting.verify.account import bar_cost
from nesting.verify.replanned import metal_of_cut
from nesting.verify.supply import source_of
from nesting.verify.violation import Violation, in_mm, in_money
from nesting.verify.walk import walk

_Line = tuple[str, str, str, str, int, int | None]


def order_violations(plan: Plan) -> Iterator[Violation]:
    """Give the bars that are ordered too often, too rarely or at a wrong price."""
    needed: Counter[_Line] = Counter()
    for group in plan.groups:
        for bar in group.bars:
            source = source_of(plan.request, group.material, bar.source)
            if source is None or isinstance(source.bar, Offcut):
                continue
            for line in (source.bar, source.cover):
                if line is not None:
                    needed[_line(line, group.material.lot)] += 1
    ordered: Counter[_Line] = Counter()
    for order in plan.order:
        price = None if order.price is None else int(order.price)
        key = (order.family, order.finish, order.part, order.lot, int(order.length), price)
        ordered[key] += order.bars
        due = None if price is None else price * order.bars
        if order.sum != due:
            yield Violation(
                "order-sum",
                _place(key),
                f"{_words(key)}: {order.bars} bars at {_money(price)} are {_money(due)}, "
                f"the order says {_money(order.sum)}.",
            )
    for key in sorted(needed.keys() | ordered.keys(), key=repr):
        if needed[key] != ordered[key]:
            yield Violation(
                "order-count",
                _place(key),
                f"{_words(key)} at {_money(key[5])}: {ordered[key]} bars are ordered, {needed[key]} are cut.",
            )


def job_violations(plan: Plan) -> Iterator[Violation]:
    """Give the jobs whose share of pieces, metal or money is not what their pieces take."""
    job_of = {piece.id: piece.job for piece in plan.pieces}
    pieces: Counter[str] = Counter()
    good: Counter[str] = Counter()
    shares: defaultdict[str, _Range] = defaultdict(_Range)
    costs: defaultdict[str, _Range] = defaultdict(_Range)
    spent = used_up = 0
    for group in plan.groups:
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
            true = walk(bar, group.saw)
            kept = true.tail if true.tail and true.tail >= group.saw.keep_length else 0
            if bar.state.cut:
                kept = metal_of_cut(group, bar)["returned"]
            # A plan that only counts bars shares no money.
            cost = (bar_cost(plan.request, group, bar) or 0) if group.priced else 0
            spent += cost
            used_up += bar.length - kept
            for job, taken in takes.items():
                shares[job].add(bar.length - kept, taken, takes.total())
                costs[job].add(cost, taken, takes.total())
    named: Counter[str] = Counter(share.job for share in plan.jobs)
    for job in sorted(pieces.keys() | named.keys()):
        if named[job] != 1 and (pieces[job] or named[job] > 1):
            yield Violation("job-share", f"job {job}", f"Job {job} has {named[job]} shares; one is due.")
    for share in plan.jobs:
        for word, said, lowest, highest, text in (
            ("pieces", share.pieces, pieces[share.job], pieces[share.job], str),
            ("good", share.good, good[share.job], good[share.job], in_mm),
            ("consumed", share.consumed, shares[share.job].low, shares[share.job].high, in_mm),
            ("cost", int(share.cost), costs[share.job].low, costs[share.job].high, in_money),
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

    def add(self, amount: int, part: int, whole: int) -> None:
        if whole > 0:
            self.low += amount * part // whole
            self.high += -(-amount * part // whole)


def _line(line: StockLine, lot: str) -> _Line:
    price = None if line.price is None else int(line.price)
    return (line.family, line.finish, line.part.value, lot, int(line.length), price)


def _place(key: _Line) -> str:
    return f"order {_words(key)}"


def _words(key: _Line) -> str:
    family, finish, part, lot, length, _ = key
    named = " ".join(word for word in (family, finish, part) if word)
    return f"{named}{f', lot {lot}' if lot else ''}, {in_mm(length)}"


def _money(amount: int | None) -> str:
    return "no price" if amount is None else in_money(amount)
