"""What a plan changes of the one it came from, and what it does about pieces that came out wrong."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from nesting.domain.plan import Plan
from nesting.planning.offers import Choice, SpoiledOffer
from nesting.reports.answer import amount
from nesting.reports.lengths import BothUnits
from nesting.reports.placed_words import placed_words, reserve_words
from nesting.reports.plan_diff import cost_of_plan, plan_diff
from nesting.reports.replan_words import balance_words, offer_words, urgent_words

MOST_SAID = 12


@dataclass(frozen=True, slots=True, kw_only=True)
class Since:
    """
    What is new against the plan before.

    Parameters
    ----------
    said, more
        Sentences, the most important first, and those that few will want to read.
    afresh
        What planning everything open afresh would come to where that is better; empty where it is not.
    """

    said: tuple[str, ...]
    more: tuple[str, ...]
    afresh: str


def since_view(before: Plan, after: Plan, names: tuple[str, str], summary: Mapping[str, Any]) -> Since:
    """
    Tell a plan from the one it came from.

    Parameters
    ----------
    names
        What the shop calls the two plans: ``P1``, ``P2``.
    summary
        The figures that are kept with the later plan.
    """
    offers = tuple(_offer(one) for one in summary.get("offers", ()))
    said, more = _said(_Pair(before, after), offers, names)
    return Since(said=said, more=more, afresh=_afresh(after, summary.get("alternative")))


@dataclass(frozen=True, slots=True, eq=False)
class _Pair:
    """Two plans; told apart by their digests, which is quicker than piece by piece."""

    before: Plan
    after: Plan

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Pair) and self._key == other._key

    def __hash__(self) -> int:
        return hash(self._key)

    @property
    def _key(self) -> tuple[str, int, str, int]:
        return self.before.id, self.before.revision, self.after.id, self.after.revision


Sentences = tuple[str, ...]


@lru_cache(maxsize=16)
def _said(
    pair: _Pair, offers: tuple[SpoiledOffer, ...], names: tuple[str, str]
) -> tuple[Sentences, Sentences]:
    """Give what everybody should read, and the rest."""
    before, after = pair.before, pair.after
    told = tuple(_named(one, before, after, names) for one in plan_diff(before, after))
    if after.revision <= before.revision:
        return told[:MOST_SAID], told[MOST_SAID:]
    lengths = BothUnits.of(after)
    first = (
        balance_words(after),
        *(said for offer in offers for said in offer_words(offer, lengths)),
        *filter(None, (placed_words(after), reserve_words(after))),
        *urgent_words(before, after),
    )
    return tuple(_named(one, before, after, names) for one in first), told


def _named(said: str, before: Plan, after: Plan, names: tuple[str, str]) -> str:
    """Call the plans by the numbers people know, instead of by their digests."""
    return said.replace(before.id, names[0]).replace(after.id, names[1])


def _afresh(after: Plan, alternative: Mapping[str, Any] | None) -> str:
    if not alternative:
        return ""
    better = " and ".join(_better(after, alternative)) or "come out better"
    return f"Planning all open bars afresh would {better}; it would change more of them."


def _better(after: Plan, alternative: Mapping[str, Any]) -> Iterator[str]:
    fewer = len(after.unplaced) - alternative["unplaced"]
    if fewer > 0:
        yield f"leave out {fewer} piece{'s' if fewer > 1 else ''} fewer"
    cost = alternative["cost"]
    if cost is not None and cost != cost_of_plan(after):
        currency = after.request.currency
        yield f"cost {amount(cost, currency)} instead of {amount(cost_of_plan(after), currency)}"


def _offer(tree: Mapping[str, Any]) -> SpoiledOffer:
    choices = tuple(Choice(**one) for one in tree["choices"])
    return SpoiledOffer(**{**tree, "choices": choices, "becomes": tuple(tree["becomes"])})
