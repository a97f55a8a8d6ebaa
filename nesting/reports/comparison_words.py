"""A comparison as rows of words and numbers, for the screen and for the workbook."""

from __future__ import annotations

from dataclasses import dataclass

from nesting.advice.comparison import Choice, Comparison, CoverChoice, Grouping, Mix
from nesting.domain.material import CoverMode
from nesting.reports.answer import amount, bars_words, share_text
from nesting.reports.lengths import METRIC, BothUnits

_LEVELS = {"whole": "all together", "floor": "floor by floor", "unit": "unit by unit"}
_MODES = {
    CoverMode.FLUSH: "together, flush",
    CoverMode.OFFSET: "together, offset",
    CoverMode.SEPARATE: "on their own",
    CoverMode.NONE: "none",
}
ASSUMED = (
    "Prices of unlisted lengths are assumed: by the metre as the listed lengths beside them, the dearer of "
    "two; ask before relying on them. Runs already divided for the longest listed bar stay divided."
)
FRESH = "Parts are planned on new bars alone; what one part leaves over is not used for the next."


@dataclass(frozen=True, slots=True)
class MixRow:
    """
    One way to buy a material.

    Parameters
    ----------
    more
        Cost above the cheapest mix of the lengths on offer; below zero is a saving.
    """

    mix: Mix
    name: str
    bars: str
    more: int


def mix_rows(comparison: Comparison, lengths: BothUnits = METRIC) -> tuple[MixRow, ...]:
    """Give every mix with what it costs more than the cheapest; unlisted lengths only if they save."""
    rows = []
    for mix in comparison.mixes:
        best = comparison.best_of(mix.material)
        more = mix.cost - (best.cost if best else mix.cost)
        # A length that leaves more pieces out saves nothing by that.
        saves = more < 0 and mix.left_out <= (best.left_out if best else 0)
        if mix.choice is not Choice.UNLISTED or saves:
            rows.append(MixRow(mix, _name(mix, best, lengths), _bars(mix, lengths), more))
    return tuple(rows)


def _name(mix: Mix, best: Mix | None, lengths: BothUnits) -> str:
    if mix.choice is Choice.ALL:
        return "cheapest mix"
    if mix.choice is Choice.SINGLE:
        return f"{lengths.said(mix.lengths[0])} only"
    new = next(iter(set(mix.lengths) - set(best.lengths if best else ())), mix.lengths[0])
    return f"with {lengths.said(new)}"


def _bars(mix: Mix, lengths: BothUnits) -> str:
    # A number alone is read as millimetres; inches say what they are.
    said = lengths.figure if lengths.metric else lengths.said
    return " + ".join(f"{count} x {said(length)}" for length, count in mix.bars) or "nothing"


def cost_words(cost: int, currency: str, *, priced: bool) -> str:
    """Give a cost as an amount, or as bars where there are no prices."""
    return amount(cost, currency) if priced else bars_words(cost)


def gap_words(row: Mix | Grouping | CoverChoice) -> str:
    """Say behind a cost how much less it might be, ``(gap 3.2 %)``, or what is not in it; else nothing."""
    if row.proved:
        return ""
    if not isinstance(row, CoverChoice) and row.left_out:
        return f" ({left_out_words(row)})"
    if row.bound is None or not row.cost:
        return " (not proved)"
    return f" (gap {share_text(max(row.cost - row.bound, 0) / row.cost)})"


def left_out_words(row: Mix | Grouping) -> str:
    """Say how many pieces are not in a cost, since bars run out: ``12 pieces left out``."""
    return f"{row.left_out} piece{'s' if row.left_out != 1 else ''} left out" if row.left_out else ""


def more_words(more: int, currency: str, *, priced: bool) -> str:
    """Give a difference with its sign; a dash for none."""
    if not more:
        return "-"
    return f"{'+' if more > 0 else '-'}{cost_words(abs(more), currency, priced=priced)}"


def level_words(grouping: Grouping) -> str:
    """Say how the building is divided: ``floor by floor, 6 parts``."""
    parts = f", {grouping.parts} parts" if grouping.parts > 1 else ""
    return f"{_LEVELS[grouping.level]}{parts}"


def cover_words(choice: CoverChoice) -> str:
    """Say how the covers are cut."""
    return _MODES[choice.mode]


def advice_words(comparison: Comparison, lengths: BothUnits = METRIC) -> tuple[str, ...]:
    """Say in sentences what the tables come to, and what more time could change."""
    mixes: list[Mix | Grouping] = [row.mix for row in mix_rows(comparison, lengths)]
    # More time brings no more bars for those that leave pieces out.
    complete = [row for row in (*mixes, *comparison.groupings) if not row.left_out]
    shown: list[Mix | Grouping | CoverChoice] = [*complete, *comparison.covers]
    open_ended = ""
    if comparison.cut_short:
        open_ended = "Time ran out: rows are missing. Allow more with --time-limit."
    elif not all(one.proved for one in shown):
        open_ended = "Rows that are not proved may come cheaper with more time: --time-limit."
    rest = filter(None, (parts_words(comparison), open_ended))
    return (*shortage_words(comparison), *saving_words(comparison, lengths), *rest)


def shortage_words(comparison: Comparison) -> tuple[str, ...]:
    """Say where bars run out, so that a cost is not that of all pieces; nothing where they suffice."""
    short = [
        f"{mix.material}: the bars on offer run out; {left_out_words(mix)}, whose cost is not counted."
        for mix in comparison.mixes
        if mix.choice is Choice.ALL and mix.left_out
    ]
    parts = [
        f"Planned {level_words(one)}, bars run out: {left_out_words(one)}, whose cost is not counted."
        for one in comparison.groupings
        if one.left_out
    ]
    return (*short, *parts)


def saving_words(comparison: Comparison, lengths: BothUnits = METRIC) -> tuple[str, ...]:
    """Say of each material what the unlisted length that saves most would save."""
    said = []
    saving = [row for row in mix_rows(comparison, lengths) if row.mix.choice is Choice.UNLISTED]
    # The last of each material in this order is the one that saves most.
    best = {row.mix.material: row for row in sorted(saving, key=lambda row: -row.more)}
    for row in sorted(best.values(), key=lambda row: row.mix.material):
        less = cost_words(-row.more, comparison.currency, priced=row.mix.priced)
        price = amount(row.mix.assumed, comparison.currency) if row.mix.assumed is not None else "no price"
        listed = comparison.best_of(row.mix.material)
        against = "" if listed is None or listed.proved else " against the best mix found in the time"
        if listed is not None and listed.left_out:
            against = f" against a mix with {left_out_words(listed)}"
        said.append(f"{row.mix.material} {row.name} would save {less}{against} (at {price} a bar).")
    return tuple(said)


def parts_words(comparison: Comparison) -> str:
    """Say what the smallest parts cost by themselves; empty where nothing is divided or bars run out."""
    if len(comparison.groupings) < 2:
        return ""
    whole, last = comparison.groupings[0], comparison.groupings[-1]
    if whole.left_out or last.left_out:
        return ""
    priced = bool(comparison.currency) or any(mix.priced for mix in comparison.mixes)
    more = cost_words(last.cost - whole.cost, comparison.currency, priced=priced)
    return f"Planned {level_words(last)}, everything costs {more} more than all together."
