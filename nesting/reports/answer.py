"""The answer in plain sentences: what to order, what it costs, and how good that provably is."""

from __future__ import annotations

from collections.abc import Sequence

from nesting.domain.material import Material, Part
from nesting.domain.plan import GroupPlan, OrderLine, Plan
from nesting.domain.progress import StopReason
from nesting.money import money_text
from nesting.reports.lengths import METRIC, BothUnits
from nesting.reports.unverified import unverified_words

_ENDED = {
    StopReason.PROVED: "",
    StopReason.TIME: "the search stopped at its time limit",
    StopReason.CANCELLED: "the search was cancelled",
    StopReason.EXHAUSTED: "the search had nothing left to try",
    StopReason.LEAST_CHANGE: "bars that were planned before were kept",
}


def answer(plan: Plan) -> tuple[str, ...]:
    """
    Say the plan in sentences, the loudest first.

    What is left out comes first, then what must not be cut yet, then one sentence pair per material
    (what to order, how good it is), then what missing prices leave open, then the sum.
    """
    sentences = loud_words(plan)
    materials = materials_of(plan)
    sentences += [answer_of(plan, material) for material in materials]
    if unpriced := unpriced_words(plan):
        sentences.append(unpriced)
    if not materials:
        sentences.append("Nothing to cut, nothing to order.")
    elif len(materials) > 1:
        sentences.append(sum_words(plan))
    return tuple(sentences)


def loud_words(plan: Plan) -> list[str]:
    """Give the sentences nobody may overlook: what is left out, and what must not be cut yet."""
    return [said for said in (unplaced_words(plan) if plan.unplaced else "", unverified_words(plan)) if said]


def answer_of(plan: Plan, material: Material) -> str:
    """Say for one material what to order and how good that is."""
    lines = tuple(line for line in plan.order if material_of(line) == material)
    group = next((group for group in plan.groups if group.material == material), None)
    order = order_words(material, lines, group, plan.request.currency, BothUnits.of(plan))
    return f"{order} {proof_of(material, group, plan.request.currency)}".rstrip()


def proof_of(material: Material, group: GroupPlan | None, currency: str) -> str:
    """Say how good a material's bars provably are, or that it is cut along with another; else empty."""
    if group:
        return proof_words(group, currency)
    return "Cut together with the channel, bar by bar." if material.part is Part.COVER else ""


def materials_of(plan: Plan) -> tuple[Material, ...]:
    """Give every material that is cut or ordered, in the order of their names."""
    return tuple(
        sorted({group.material for group in plan.groups} | {material_of(line) for line in plan.order})
    )


def material_of(line: OrderLine) -> Material:
    """Give the material an order line buys."""
    return Material(line.family, line.finish, Part(line.part), line.lot)


def unplaced_words(plan: Plan) -> str:
    """Say loudly how many pieces the plan leaves out."""
    count = len(plan.unplaced)
    if not count:
        return "Every piece is placed."
    if count == 1:
        return (
            "NOT COMPLETE: 1 PIECE IS NOT PLACED. This order does not cover it; it is listed with its reason."
        )
    return (
        f"NOT COMPLETE: {count} PIECES ARE NOT PLACED. This order does not cover them; "
        "each is listed with its reason."
    )


def unpriced_words(plan: Plan) -> str:
    """
    Say what a plan without prices cannot know; empty where every material has prices or one length.

    Without prices the fewest bars are sought, whatever their length.
    """
    stock = plan.request.stock
    bare = []
    for group in plan.groups:
        material = group.material
        kind = (material.family, material.finish, material.part)
        offered = {line.length for line in stock if (line.family, line.finish, line.part) == kind}
        if not group.priced and len(offered) > 1:
            bare.append(str(material))
    if not bare:
        return ""
    every = all(not group.priced for group in plan.groups)
    of = "" if every else f" for {' and '.join(bare)}"
    return (
        f"No prices are given{of}, so the number of bars is least; "
        "cheaper or shorter bars may do where several lengths are on offer."
    )


def order_words(
    material: Material,
    lines: tuple[OrderLine, ...],
    group: GroupPlan | None,
    currency: str,
    lengths: BothUnits = METRIC,
) -> str:
    """
    Say what to order of one material, what comes from the rack, and what it costs.

    Where plans before have ordered of it, all its bars and the money for them come first, then what of
    them is still to order.
    """
    from_rack = sum(1 for bar in group.bars if bar.offcut) if group else 0
    hand = sum(line.on_hand for line in lines)
    sources = [f"{bars_words(hand)} on hand"] if hand else []
    if from_rack:
        sources.append(f"{from_rack} offcut{'s' if from_rack != 1 else ''} from the rack")
    rack = " and ".join(sources)
    placed = any(line.ordered for line in lines)
    more = _more_words(lines, currency, lengths)
    lines = tuple(line for line in lines if line.bars)
    if not lines:
        return f"{material}: nothing to order" + (f"; cut {rack}." if rack else ".")
    bars = " and ".join(f"{with_reserve_words([line])} of {lengths.said(line.length)}" for line in lines)
    plus = f", and take {rack}" if rack else ""
    sums = [line.sum for line in lines if line.sum is not None]
    cost = f": {amount(sum(sums), currency)}" if len(sums) == len(lines) else ""
    if placed:
        return f"In all {bars} {material}{plus}{cost}. Beyond what plans before have ordered: {more}."
    return f"Order {bars} {material}{plus}{cost}."


def with_reserve_words(lines: Sequence[OrderLine]) -> str:
    """Say how many bars are ordered, and how many of them nobody plans to cut."""
    bars = bars_words(sum(line.bars for line in lines))
    reserve = sum(min(line.reserve, line.bars) for line in lines)
    return f"{bars} ({reserve} of them in reserve)" if reserve else bars


def _without_price(lines: int) -> str:
    """Say behind a sum how many order lines it leaves out; empty for none."""
    return f" and {lines} order line{'s' if lines > 1 else ''} without a price" if lines else ""


def _more_words(lines: Sequence[OrderLine], currency: str, lengths: BothUnits) -> str:
    new = [line for line in lines if line.more]
    each = [f"{bars_words(line.more)} of {lengths.said(line.length)}" for line in new]
    return f"{' and '.join(each)}{more_cost_words(new, currency)}" if new else "nothing more"


def more_cost_words(lines: Sequence[OrderLine], currency: str) -> str:
    """Say the money of what is still to order, after a comma; empty where no price is known."""
    sums = [line.more_sum for line in lines if line.more and line.more_sum is not None]
    if not sums:
        return ""
    unpriced = sum(1 for line in lines if line.more and line.price is None)
    return f", {amount(sum(sums), currency)}{_without_price(unpriced)}"


def proof_words(group: GroupPlan, currency: str) -> str:
    """Say how good the bars of a group provably are, and whether a step of the proof has to be trusted."""
    if group.proved:
        proved = "proved; the last step by exhaustive search" if rests_on_search(group) else "proved"
        if group.priced:
            return f"No cheaper plan cuts these pieces ({proved})."
        if group.cost == 0:
            return "Nothing has to be bought."
        if group.cost == 1:
            return f"1 bar; it cannot be done without ({proved})."
        return f"{bars_words(group.cost)}; {group.cost - 1} is impossible ({proved})."
    apart = group.cost - group.bound
    ended = f"; {_ENDED[group.ended]}" if _ENDED[group.ended] else ""
    if group.bound <= 0:
        return f"How far it is from the best possible is not known: there is no bound yet{ended}."
    if group.priced:
        return (
            f"At most {share_text(group.gap)} ({amount(apart, currency)}) from the best possible: "
            f"less than {amount(group.bound, currency)} is impossible{ended}."
        )
    return (
        f"At most {bars_words(apart)} ({share_text(group.gap)}) from the best possible: "
        f"fewer than {group.bound} is impossible{ended}."
    )


def rests_on_search(group: GroupPlan) -> bool:
    """Whether the last step of a group's bound is a search that an audit has to trust."""
    return group.certificate is not None and bool(group.certificate.closed_by)


def trust_words(plan: Plan) -> str:
    """
    Say what an audit checks again of proofs that end with a search, and how far; empty when there are none.

    A bound is the sum of what its duals prove, which anybody can check, and of what the search adds.
    """
    searched = [group for group in plan.groups if group.proved and rests_on_search(group)]
    if not searched:
        return ""
    groups = "1 material group" if len(searched) == 1 else f"{len(searched)} material groups"
    said = (
        f"For {groups} the last step of the proof is an exhaustive search, which has to be trusted; "
        "an audit checks the plan and the rest of the proof again"
    )
    checked = sum(group.certificate.checkable for group in searched if group.certificate)
    cost = sum(group.cost for group in searched)
    if len({group.priced for group in searched}) > 1:
        return f"{said}."
    if searched[0].priced:
        currency = plan.request.currency
        return f"{said}: {amount(checked, currency)} of {amount(cost, currency)}."
    return f"{said}: {checked} of {bars_words(cost)}."


def gap_words(group: GroupPlan) -> str:
    """Give the gap for a table: ``proved``, a share, or that there is no bound yet."""
    if group.proved:
        return "proved"
    return share_text(group.gap) if group.bound > 0 else "no bound yet"


def sum_words(plan: Plan) -> str:
    """Say the sum of the order, and for how many materials it is proved least."""
    bars = with_reserve_words(plan.order)
    sums = [line.sum for line in plan.order if line.sum is not None]
    unpriced = _without_price(len(plan.order) - len(sums))
    money = f", {amount(sum(sums), plan.request.currency)}{unpriced}" if sums else ""
    proved = sum(1 for group in plan.groups if group.proved)
    count = len(plan.groups)
    said = "all" if proved == count else f"{proved} of {count}"
    if any(line.ordered for line in plan.order):
        more = sum(line.more for line in plan.order)
        new = f"{bars_words(more)}{more_cost_words(plan.order, plan.request.currency)}" if more else "nothing"
        return (
            f"In all: {bars}{money}, of which {new} is still to order; {said} material groups proved least."
        )
    return f"In all: {bars} to order{money}; {said} material groups proved least."


def share_text(share: float) -> str:
    """Give a share as per cent with one decimal, two below 0.1 %, never rounded to nothing."""
    if 0 < share < 0.0001:
        return "less than 0.01 %"
    return f"{share * 100:.2f} %" if 0 < share < 0.001 else f"{share * 100:.1f} %"


def amount(money: int, currency: str) -> str:
    """Give an amount with its currency."""
    return f"{money_text(money)} {currency}".rstrip()


def bars_words(count: int) -> str:
    """Give a number of bars in words."""
    return "1 bar" if count == 1 else f"{count} bars"
