"""Whether a plan that follows another one says truly what was ordered before, and where the reserve went."""

from __future__ import annotations

from collections.abc import Iterator

from nesting.domain.plan import Plan
from nesting.verify.bill import key_of
from nesting.verify.purchase import place_of, words_of
from nesting.verify.violation import Violation


def ordered_violations(before: Plan, after: Plan) -> Iterator[Violation]:
    """
    Give what a plan that follows another one says wrongly of what was ordered before.

    The reserve of an order is there for what goes wrong: what a plan does not hold of it any more has to
    be in bars that it cuts, beyond those that the order brought without it.
    """
    now = {key_of(after, order): order for order in after.order}
    for was in before.order:
        key = key_of(before, was)
        ordered = max(was.bars, was.ordered)
        if key is None:
            continue
        order = now.get(key)
        if (order is None and ordered) or (order is not None and order.ordered != ordered):
            said = 0 if order is None else order.ordered
            yield Violation(
                "ordered-before",
                place_of(was),
                f"{words_of(was)}: {ordered} bars were ordered before, the plan says {said}.",
            )
            continue
        if order is None:
            continue
        whole = was.reserve + was.reserve_used
        hand = min(was.on_hand, after.request.stock[key[1]].on_hand)
        most = max(order.needed + whole - ordered - hand, 0)
        lost = order.needed and order.reserve + order.reserve_used != whole
        if lost or order.reserve_used > most:
            yield Violation(
                "reserve",
                place_of(was),
                f"{words_of(was)}: of {whole} reserve bars {order.reserve} are left and {order.reserve_used} "
                f"used; {order.needed} bars are cut of {ordered + hand} that were ordered.",
            )
    old = {key_of(before, was) for was in before.order}
    for key, order in now.items():
        if key not in old and order.ordered:
            yield Violation(
                "ordered-before", place_of(order), f"{words_of(order)}: none of them was ordered before."
            )
