"""Whether the metal adds up, and whether every group's cost and bound are what they claim."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from nesting.domain.plan import GroupPlan, Plan, PlannedBar, TailFate
from nesting.domain.progress import StopReason
from nesting.domain.request import Request
from nesting.verify.bill import Bills, lines_of
from nesting.verify.replanned import metal_of_cut
from nesting.verify.supply import family_follows, saw_of
from nesting.verify.violation import Violation, in_mm, in_money
from nesting.verify.walk import name_of, walk


def account_violations(plan: Plan) -> Iterator[Violation]:
    """Give what is wrong with each group's saw, metal account, cost and bound."""
    groups: Counter[str] = Counter()
    bills = Bills(plan)
    for group in plan.groups:
        name, where = str(group.material), f"material {group.material}"
        groups[name] += 1
        if groups[name] == 2:
            yield Violation("group-twice", where, f"{name}: planned in two groups.")
        if group.saw != saw_of(plan.request, group.material.part):
            yield Violation("saw", where, f"{name}: planned on another saw than the request names for it.")
        if group.cover_follows != family_follows(plan.request, group.material):
            asked = "not " if group.cover_follows else ""
            yield Violation(
                "cover-follows", where, f"{name}: by its family its covers are {asked}cut with the channel."
            )
        for bar in group.bars:
            yield from _identity(group, bar)
        yield from _totals(group)
        yield from _cost(plan.request, bills, group)


def metal_of(group: GroupPlan) -> dict[str, int]:
    """Count a group's metal from the walked bars: where each nanometre goes."""
    account: Counter[str] = Counter(bars=0, used=0, good=0, kerf=0, trim=0, returned=0, scrap=0)
    for bar in group.bars:
        account["bars"] += 1
        account["used"] += bar.length
        account["trim"] += bar.head
        if bar.state.cut:
            account.update(metal_of_cut(group, bar))
            continue
        true = walk(bar, group.saw, group.mitre)
        kept = true.tail > 0 and true.tail >= group.saw.keep_length
        account["good"] += sum(cut.length for cut in bar.cuts)
        account["kerf"] += true.chips
        account["returned" if kept else "scrap"] += true.tail
    return dict(account)


def _identity(group: GroupPlan, bar: PlannedBar) -> Iterator[Violation]:
    if bar.state.cut:
        return  # its account is made up from what is left, see `metal_of_cut`
    kept = bar.tail if bar.fate is TailFate.OFFCUT else 0
    thrown = bar.tail if bar.fate is TailFate.SCRAP else 0
    good = sum(cut.length for cut in bar.cuts)
    total = bar.head + good + bar.kerf_loss + kept + thrown
    if total != bar.length:
        yield Violation(
            "bar-identity",
            f"bar {bar.number}",
            f"{name_of(group, bar)}: trim {in_mm(bar.head)}, pieces {in_mm(good)}, chips "
            f"{in_mm(bar.kerf_loss)}, kept {in_mm(kept)} and scrap {in_mm(thrown)} come to "
            f"{in_mm(total)}, the bar is {in_mm(bar.length)}.",
        )


def _totals(group: GroupPlan) -> Iterator[Violation]:
    name, where = str(group.material), f"material {group.material}"
    for word, true in metal_of(group).items():
        claimed = getattr(group.totals, word)
        if claimed != true:
            said, found = (str(claimed), str(true)) if word == "bars" else (in_mm(claimed), in_mm(true))
            yield Violation("totals", where, f"{name}: {word} is given as {said}, the bars give {found}.")


def _cost(request: Request, bills: Bills, group: GroupPlan) -> Iterator[Violation]:
    name, where = str(group.material), f"material {group.material}"
    if group.priced:
        yield from _unpriced(request, group)
    said = in_money if group.priced else str
    total = bills.paid(group) if group.priced else bills.bought(group)
    if total is not None and group.cost != total:
        yield Violation(
            "cost", where, f"{name}: the cost is given as {said(group.cost)}, the bars come to {said(total)}."
        )
    if group.bound > group.cost:
        yield Violation(
            "bound-above-cost",
            where,
            f"{name}: nothing below {said(group.bound)} is said to be possible, the plan costs "
            f"{said(group.cost)}.",
        )
    if group.ended is StopReason.PROVED and group.bound < group.cost:
        yield Violation(
            "not-proved",
            where,
            f"{name}: called {group.ended.value}, but the bound is {said(group.bound)} and the cost "
            f"{said(group.cost)}.",
        )
    if group.certificate is not None and group.certificate.bound < group.bound:
        yield Violation(
            "bound-not-certified",
            where,
            f"{name}: the bound is given as {said(group.bound)}, its certificate says "
            f"{said(group.certificate.bound)}.",
        )


def _unpriced(request: Request, group: GroupPlan) -> Iterator[Violation]:
    for bar in group.bars:
        for index in lines_of(request, group, bar.source):
            line = request.stock[index]
            if line.price is None and not line.breaks:
                yield Violation(
                    "no-price",
                    f"bar {bar.number}",
                    f"{name_of(group, bar)}: the plan counts money, the price of {bar.source} is unknown.",
                )
