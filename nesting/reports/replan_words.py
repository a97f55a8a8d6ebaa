"""What a re-plan did, in words: where things stand, what spoiled pieces become, what else it could cost."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from nesting.domain.made import BarState
from nesting.domain.plan import Plan, PlannedBar
from nesting.money import money_text
from nesting.planning.offers import SpoiledOffer
from nesting.planning.urgency import rank_of, ranks_of
from nesting.reports.answer import amount, bars_words
from nesting.reports.lengths import METRIC, BothUnits
from nesting.reports.placed_words import placed_words, reserve_words
from nesting.reports.plan_diff import cost_of_plan, listed, plan_diff
from nesting.verify.replanned import balance_of

_CHOICES_SHOWN = 6


def replan_words(
    before: Plan, after: Plan, offers: Sequence[SpoiledOffer], alternative: Plan | None
) -> tuple[str, ...]:
    """
    Say what a re-plan did.

    The balance of the demand comes first, then what each spoiled piece can become, then the two plans
    told apart, then what is left to order, which bars must not wait for their turn, and the price of a
    fresh plan where that is lower.
    """
    lengths = BothUnits.of(after)
    placed = (placed_words(after), reserve_words(after))
    return (
        balance_words(after),
        *(sentence for offer in offers for sentence in offer_words(offer, lengths)),
        *plan_diff(before, after),
        *filter(None, placed),
        *urgent_words(before, after),
        *(alternative_words(before, after, alternative) if alternative else ()),
    )


def balance_words(plan: Plan) -> str:
    """Say that nothing that was ordered is lost: ordered = done + planned + short."""
    balance = balance_of(plan)
    return (
        f"{balance.ordered} pieces are ordered: {balance.done} done, {balance.planned} planned, "
        f"{balance.short} short."
    )


def offer_words(offer: SpoiledOffer, lengths: BothUnits = METRIC) -> Iterator[str]:
    """Say what a spoiled piece of a bar can still become, and what the plan makes of it."""
    what = f"This {lengths.said(offer.length)} ({offer.tag}, from {offer.piece} of bar {offer.bar})"
    if offer.becomes:
        yield f"{what} becomes {' and '.join(offer.becomes)}."
    if not offer.choices:
        yield f"{what} can become no open piece."
        return
    names = [f"{choice.piece} ({lengths.said(choice.length)})" for choice in offer.choices]
    yield f"{what} can become {listed(names, _CHOICES_SHOWN)}."


def urgent_words(before: Plan, after: Plan) -> Iterator[str]:
    """
    Say which new bars must not wait until the bars before them are cut.

    Open bars keep their numbers, since their labels are printed, so a new bar comes last by its number
    also where it holds what is wanted first.
    """
    ranks = ranks_of(after.request)
    pieces = {piece.id: piece for piece in after.pieces}
    planned = {bar.number for group in before.groups for bar in group.bars}
    for group in after.groups:
        waiting = [bar for bar in group.bars if bar.state is BarState.OPEN and bar.cuts]
        rank = {bar.number: min(rank_of(pieces[c.piece], ranks) for c in bar.cuts) for bar in waiting}
        for bar in waiting:
            later = [n for n in rank if n in planned and rank[n] > rank[bar.number]]
            if bar.number in planned or not later:
                continue
            urgent = [c.piece for c in bar.cuts if rank_of(pieces[c.piece], ranks) == rank[bar.number]]
            yield f"Cut bar {bar.number} before bar {min(later)}: {listed(urgent)} is wanted first."


def alternative_words(before: Plan, after: Plan, alternative: Plan) -> Iterator[str]:
    """Say what a fresh plan of everything open would cost, and how much it would change."""
    fewer = len(after.unplaced) - len(alternative.unplaced)
    kept, fresh = cost_of_plan(after), cost_of_plan(alternative)
    said = []
    if fewer > 0:
        said.append(f"leave out {fewer} piece{'s' if fewer > 1 else ''} fewer")
    if fresh != kept:
        currency = after.request.currency
        apart = f"{money_text(abs(kept - fresh))} {'less' if fresh < kept else 'more'}"
        said.append(f"cost {amount(fresh, currency)} instead of {amount(kept, currency)}, {apart}")
    unpriced = [sum(g.cost for g in plan.groups if not g.priced) for plan in (after, alternative)]
    if unpriced[0] != unpriced[1]:
        apart_bars = unpriced[0] - unpriced[1]
        said.append(f"take {bars_words(abs(apart_bars))} {'fewer' if apart_bars > 0 else 'more'}")
    planned = {bar.number for group in before.groups for bar in group.bars}
    still_open = [
        bar
        for group in after.groups
        for bar in group.bars
        if bar.state is BarState.OPEN and bar.number in planned
    ]
    with_it = ""
    if any(line.left_over for line in alternative.order):
        # What it saves is then saved only as long as nothing is ordered.
        placed = placed_words(alternative)
        with_it = f" With it: {placed[:1].lower()}{placed[1:]}"
    yield (
        f"A fresh plan of everything open would {', and '.join(said)}; it would change "
        f"{_changed(still_open, alternative)} of the {bars_words(len(still_open))} that are planned and "
        f"still to be cut. Take it with --freely.{with_it}"
    )


def _changed(bars: Sequence[PlannedBar], after: Plan) -> int:
    """Count the bars that a plan does not keep as they are."""
    now = {(b.source, tuple(c.piece for c in b.cuts)) for g in after.groups for b in g.bars}
    return sum((bar.source, tuple(cut.piece for cut in bar.cuts)) not in now for bar in bars)
