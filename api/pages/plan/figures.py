"""The answer of a plan with its figures: what to order, what it costs, how good that is."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from api.pages.plan.metal import MOST_ROWS, metres
from nesting.domain.material import Material
from nesting.domain.plan import GroupPlan, OrderLine, Plan
from nesting.money import money_text
from nesting.reports.answer import (
    amount,
    bars_words,
    gap_words,
    loud_words,
    material_of,
    materials_of,
    more_cost_words,
    order_words,
    proof_of,
    share_text,
    sum_words,
    trust_words,
    unpriced_words,
    with_reserve_words,
)
from nesting.reports.completion import units_words
from nesting.reports.goal_words import goal_words, unit_completion_words
from nesting.reports.lengths import BothUnits
from nesting.reports.placed_words import placed_words, reserve_words
from nesting.reports.purchase_words import (
    alternative_words,
    break_words,
    budget_words,
    is_over,
    line_note,
    longest_words,
    margin_words,
    order_by,
    spares_words,
    status_words,
)
from nesting.reports.small_part_words import small_parts_line


@dataclass(frozen=True, slots=True, kw_only=True)
class MaterialAnswer:
    """
    What to order of one material, how good that is, and what else could be done.

    Parameters
    ----------
    bars, rack, cost, bound, gap
        Bars opened, offcuts among them, the cost and its proven bound; empty texts where a material only
        goes along with another.
    others
        The next-best purchase, the margins, spares and second goals, each as (what, sentence).
    """

    name: str
    order: str
    proof: str
    bars: int
    rack: int
    cost: str
    bound: str
    gap: str
    waste: str
    yield_: str
    others: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """
    The answer in words.

    Parameters
    ----------
    loud
        What nobody may overlook.
    whole
        The sum over all materials; empty when there is one.
    more
        How many materials there are beyond those that are told.
    besides
        What else holds for the whole plan.
    """

    loud: tuple[str, ...]
    whole: str
    materials: tuple[MaterialAnswer, ...]
    more: int
    besides: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderRow:
    """
    One line of the order, as texts.

    Parameters
    ----------
    reserve
        Bars among them that nobody plans to cut.
    ordered, more, more_sum
        Bars that plans before have ordered, those still to order, and their price.
    """

    bars: int
    reserve: int
    ordered: int
    more: int
    more_sum: str
    length: str
    material: str
    price: str
    reached: str
    sum: str
    by: str
    note: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ShareRow:
    """What one job takes from the plan, as texts."""

    job: str
    pieces: int
    good: str
    consumed: str
    cost: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Money:
    """
    The order and who bears it.

    Parameters
    ----------
    priced
        Whether any line has a price.
    again
        Whether plans before have ordered any of it.
    more
        How many lines there are beyond those that are listed.
    total, still, longest
        The sum in words, what of it is still to order, the longest bar that must be carried.
    budget, over
        What is left of the budget, and whether nothing is; empty without one.
    reserve
        How much of the reserve is used; empty while none is.
    """

    priced: bool
    again: bool
    lines: tuple[OrderRow, ...]
    more: int
    total: str
    still: str
    longest: str
    budget: str
    over: bool
    reserve: str
    jobs: tuple[ShareRow, ...]


def answer_view(plan: Plan, lengths: BothUnits) -> Answer:
    """Say the plan in sentences, with the figures of each material."""
    groups = {group.material: group for group in plan.groups}
    materials = materials_of(plan)
    small = small_parts_line(plan.small_parts) if plan.small_parts is not None else ""
    said = (
        unpriced_words(plan),
        trust_words(plan),
        units_words(plan),
        unit_completion_words(plan),
        status_words(plan),
        small,
    )
    over = budget_words(plan) if is_over(plan) else ""
    return Answer(
        loud=tuple(filter(None, (*loud_words(plan), placed_words(plan), over))),
        whole=sum_words(plan) if len(materials) > 1 else "",
        materials=tuple(_material(plan, one, groups.get(one), lengths) for one in materials[:MOST_ROWS]),
        more=len(materials[MOST_ROWS:]),
        besides=tuple(words for words in said if words),
    )


def money_view(plan: Plan, lengths: BothUnits) -> Money:
    """Give the order line by line, and what each job bears of it."""
    sums = [line.sum for line in plan.order if line.sum is not None]
    total = with_reserve_words(plan.order)
    if sums:
        total += f", {amount(sum(sums), plan.request.currency)}"
    if sums and len(sums) < len(plan.order):
        total += f", and {len(plan.order) - len(sums)} without a price"
    priced = any(group.priced for group in plan.groups)
    return Money(
        priced=bool(sums),
        again=any(line.ordered for line in plan.order),
        lines=tuple(_order_row(plan, line, lengths) for line in plan.order[:MOST_ROWS]),
        more=len(plan.order[MOST_ROWS:]),
        total=total,
        still=bars_words(sum(line.more for line in plan.order))
        + more_cost_words(plan.order, plan.request.currency),
        longest=longest_words(plan),
        budget=budget_words(plan),
        over=is_over(plan),
        reserve=reserve_words(plan),
        jobs=tuple(
            ShareRow(
                job=share.job,
                pieces=share.pieces,
                good=metres(share.good),
                consumed=metres(share.consumed),
                cost=amount(share.cost, plan.request.currency) if priced else "no price",
            )
            for share in plan.jobs
        ),
    )


def _material(plan: Plan, material: Material, group: GroupPlan | None, lengths: BothUnits) -> MaterialAnswer:
    currency = plan.request.currency
    lines = tuple(line for line in plan.order if material_of(line) == material)
    return MaterialAnswer(
        name=str(material),
        order=order_words(material, lines, group, currency, lengths),
        proof=proof_of(material, group, currency),
        bars=len(group.bars) if group else 0,
        rack=sum(1 for bar in group.bars if bar.offcut) if group else 0,
        cost=_cost(group, group.cost) if group else "",
        bound=_cost(group, group.bound) if group and group.bound > 0 else "",
        gap=gap_words(group) if group else "",
        waste=share_text(group.totals.waste_share) if group else "",
        yield_=share_text(group.totals.yield_share) if group else "",
        others=tuple(_others(plan, group, lengths)) if group else (),
    )


def _others(plan: Plan, group: GroupPlan, lengths: BothUnits) -> Iterator[tuple[str, str]]:
    for what, said in (
        ("Next best", alternative_words(group, plan.request.currency, lengths)),
        ("Margins", margin_words(group, lengths)),
        ("Spares from tails", spares_words(group, lengths)),
    ):
        if said:
            # The sentence begins with the word that stands in front of it here.
            told = said.partition(": ")[2]
            yield what, told[:1].upper() + told[1:]
    for said in goal_words(plan, group):
        yield "Goal", said


def _cost(group: GroupPlan, cost: int) -> str:
    return money_text(cost) if group.priced else bars_words(cost)


def _order_row(plan: Plan, line: OrderLine, lengths: BothUnits) -> OrderRow:
    return OrderRow(
        bars=line.bars,
        reserve=min(line.reserve, line.bars),
        ordered=line.ordered,
        more=line.more,
        more_sum="no price" if line.more_sum is None else money_text(line.more_sum),
        length=lengths.both(line.length),
        material=str(material_of(line)),
        price="no price" if line.price is None else money_text(line.price),
        reached=break_words(plan, line),
        sum="no price" if line.sum is None else money_text(line.sum),
        by=order_by(plan, line),
        note=line_note(plan, line),
    )
