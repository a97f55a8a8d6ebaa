"""The answer in plain sentences: what to order, what it costs, and how good that provably is."""

from __future__ import annotations

from nesting.domain.material import Material, Part
from nesting.domain.plan import GroupPlan, OrderLine, Plan
from nesting.domain.progress import StopReason
from nesting.money import money_text
from nesting.units import mm_text

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

    What is left out comes first, then one sentence pair per material (what to order, how good it is),
    then the sum.
    """
    sentences = [unplaced_words(plan)] if plan.unplaced else []
    materials = materials_of(plan)
    sentences += [answer_of(plan, material) for material in materials]
    if not materials:
        sentences.append("Nothing to cut, nothing to order.")
    elif len(materials) > 1:
        sentences.append(sum_words(plan))
    return tuple(sentences)


def answer_of(plan: Plan, material: Material) -> str:
    """Say for one material what to order and how good that is."""
    lines = tuple(line for line in plan.order if material_of(line) == material)
    group = next((group for group in plan.groups if group.material == material), None)
    proof = proof_words(group, plan.request.currency) if group else _follows(material)
    return f"{order_words(material, lines, group, plan.request.currency)} {proof}".rstrip()


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
    what = "1 PIECE IS" if count == 1 else f"{count} PIECES ARE"
    return f"NOT COMPLETE: {what} NOT PLACED. This order does not cover them; each is listed with its reason."


def order_words(
    material: Material, lines: tuple[OrderLine, ...], group: GroupPlan | None, currency: str
) -> str:
    """Say what to order of one material, what comes from the rack, and what it costs."""
    from_rack = sum(1 for bar in group.bars if bar.offcut) if group else 0
    hand = sum(line.on_hand for line in lines)
    sources = [f"{bars_words(hand)} on hand"] if hand else []
    if from_rack:
        sources.append(f"{from_rack} offcut{'s' if from_rack != 1 else ''} from the rack")
    rack = " and ".join(sources)
    lines = tuple(line for line in lines if line.bars)
    if not lines:
        return f"{material}: nothing to order" + (f"; cut {rack}." if rack else ".")
    bars = " and ".join(f"{bars_words(line.bars)} of {mm_text(line.length)} mm" for line in lines)
    plus = f", and take {rack}" if rack else ""
    sums = [line.sum for line in lines if line.sum is not None]
    if len(sums) < len(lines):
        return f"Order {bars} {material}{plus}."
    return f"Order {bars} {material}{plus}: {amount(sum(sums), currency)}."


def proof_words(group: GroupPlan, currency: str) -> str:
    """Say how good the bars of a group provably are."""
    if group.proved:
        if group.priced:
            return "Nothing cheaper exists (proved)."
        if group.cost == 0:
            return "Nothing has to be bought."
        if group.cost == 1:
            return "1 bar; it cannot be done without (proved)."
        return f"{bars_words(group.cost)}; {group.cost - 1} is impossible (proved)."
    apart = group.cost - group.bound
    ended = f"; {_ENDED[group.ended]}" if _ENDED[group.ended] else ""
    if group.priced:
        return (
            f"At most {share_text(group.gap)} ({amount(apart, currency)}) from the best possible: "
            f"less than {amount(group.bound, currency)} is impossible{ended}."
        )
    return (
        f"At most {bars_words(apart)} ({share_text(group.gap)}) from the best possible: "
        f"fewer than {group.bound} is impossible{ended}."
    )


def sum_words(plan: Plan) -> str:
    """Say the sum of the order, and for how many materials it is proved least."""
    bars = sum(line.bars for line in plan.order)
    sums = [line.sum for line in plan.order if line.sum is not None]
    money = f", {amount(sum(sums), plan.request.currency)}" if sums else ""
    unpriced = len(plan.order) - len(sums)
    if sums and unpriced:
        money += f" and {unpriced} order line{'s' if unpriced > 1 else ''} without a price"
    proved = sum(1 for group in plan.groups if group.proved)
    count = len(plan.groups)
    said = "all" if proved == count else f"{proved} of {count}"
    return f"In all: {bars_words(bars)} to order{money}; {said} material groups proved least."


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


def _follows(material: Material) -> str:
    return "Cut together with the channel, bar by bar." if material.part is Part.COVER else ""
