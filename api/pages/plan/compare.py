"""A comparison as tables: all together or in parts, which lengths to buy, how to cut the covers."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from nesting.advice.comparison import Choice, Comparison
from nesting.money import money_text
from nesting.reports.answer import bars_words
from nesting.reports.comparison_words import (
    ASSUMED,
    FRESH,
    cost_words,
    cover_words,
    left_out_words,
    level_words,
    mix_rows,
    more_words,
    parts_words,
    saving_words,
    shortage_words,
)
from nesting.reports.lengths import BothUnits


@dataclass(frozen=True, slots=True, kw_only=True)
class PartsRow:
    """
    Ordering and cutting all together, or in parts.

    Parameters
    ----------
    left_out
        How many pieces are not in the cost, since bars run out; empty when all are.
    width
        The cost against the dearest way, per cent: a drawing to scale.
    """

    name: str
    bars: str
    cost: str
    more: str
    proved: bool
    left_out: str
    width: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PartsOf:
    """What each way costs for one material, in the order of the ways, and what the last adds to the first."""

    material: str
    costs: tuple[str, ...]
    more: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Purchase:
    """
    One way to buy a material.

    Parameters
    ----------
    assumed
        The price taken for a length that is not listed.
    left_out
        How many pieces are not in the cost, since bars run out; empty when all are.
    """

    name: str
    assumed: str
    bars: str
    cost: str
    more: str
    proved: bool
    left_out: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Purchases:
    """The ways to buy one material."""

    material: str
    rows: tuple[Purchase, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CoverRow:
    """One way to cut the covers of a family."""

    name: str
    channels: int
    covers: int
    cost: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Compared:
    """
    Everything compared, as texts.

    Parameters
    ----------
    whole
        What ordering in parts comes to, in a sentence; empty where there are no parts.
    shortage
        Where bars run out, in sentences.
    savings
        What lengths that are not listed would save, in sentences.
    fresh, assumed
        What has to be known beside the tables; empty where it does not apply.
    cut_short
        Whether time ran out, so that rows are missing.
    """

    currency: str
    whole: str
    shortage: tuple[str, ...]
    savings: tuple[str, ...]
    parts: tuple[PartsRow, ...]
    by_material: tuple[PartsOf, ...]
    fresh: str
    purchases: tuple[Purchases, ...]
    assumed: str
    covers: tuple[CoverRow, ...]
    cut_short: bool


def compared_view(comparison: Comparison, lengths: BothUnits) -> Compared:
    """Set out a comparison for its page."""
    parts = tuple(_parts(comparison))
    divided = len(parts) > 1
    unlisted = any(row.mix.choice is Choice.UNLISTED for row in mix_rows(comparison))
    return Compared(
        currency=comparison.currency,
        whole=parts_words(comparison),
        shortage=shortage_words(comparison),
        savings=saving_words(comparison, lengths),
        parts=parts,
        by_material=tuple(_by_material(comparison)),
        fresh=FRESH if divided else "",
        purchases=tuple(_purchases(comparison, lengths)),
        assumed=ASSUMED if unlisted else "",
        covers=tuple(
            CoverRow(
                name=f"{choice.family} {choice.finish}".strip() + f", {cover_words(choice)}",
                channels=choice.channels,
                covers=choice.covers,
                cost=cost_words(choice.cost, "", priced=choice.priced),
            )
            for choice in comparison.covers
        ),
        cut_short=comparison.cut_short,
    )


def _priced(comparison: Comparison) -> bool:
    return any(mix.priced for mix in comparison.mixes)


def _parts(comparison: Comparison) -> Iterator[PartsRow]:
    if not comparison.groupings:
        return
    priced = _priced(comparison)
    whole = comparison.groupings[0]
    dearest = max(grouping.cost for grouping in comparison.groupings) or 1
    for grouping in comparison.groupings:
        yield PartsRow(
            name=level_words(grouping),
            bars=bars_words(grouping.bars),
            cost=cost_words(grouping.cost, "", priced=priced),
            more=more_words(grouping.cost - whole.cost, "", priced=priced),
            proved=grouping.proved,
            left_out=left_out_words(grouping),
            width=f"{100 * grouping.cost / dearest:.2f}",
        )


def _by_material(comparison: Comparison) -> Iterator[PartsOf]:
    priced = _priced(comparison)
    levels = [dict(grouping.costs) for grouping in comparison.groupings]
    for material in sorted(set().union(*levels)):
        costs = [level.get(material, 0) for level in levels]
        yield PartsOf(
            material=str(material),
            costs=tuple(cost_words(cost, "", priced=priced) for cost in costs),
            more=more_words(costs[-1] - costs[0], "", priced=priced),
        )


def _purchases(comparison: Comparison, lengths: BothUnits) -> Iterator[Purchases]:
    rows = mix_rows(comparison, lengths)
    for material in dict.fromkeys(row.mix.material for row in rows):
        yield Purchases(
            material=str(material),
            rows=tuple(
                Purchase(
                    name=row.name,
                    assumed="" if row.mix.assumed is None else money_text(row.mix.assumed),
                    bars=row.bars,
                    cost=cost_words(row.mix.cost, "", priced=row.mix.priced),
                    more=more_words(row.more, "", priced=row.mix.priced),
                    proved=row.mix.proved,
                    left_out=left_out_words(row.mix),
                )
                for row in rows
                if row.mix.material == material
            ),
        )
