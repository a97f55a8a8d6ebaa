"""A plan on the terminal, readable without colour, at any width, and when piped into a file."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from rich import box
from rich.console import Console
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from nesting.domain.plan import GroupPlan, Plan, PlannedBar, TailFate, Totals
from nesting.money import money_text
from nesting.reports.answer import answer, bars_words, gap_words, loud_words, share_text, unplaced_words
from nesting.reports.bar_picture import Segment, SegmentKind, bar_segments, cells_of
from nesting.reports.cautions import MEASURE, plan_cautions
from nesting.reports.completion import incomplete_words
from nesting.reports.goal_words import goal_words, unit_completion_words
from nesting.reports.lengths import METRIC, BothUnits
from nesting.reports.placed_words import placed_words, reserve_words
from nesting.reports.purchase_words import (
    alternative_words,
    budget_words,
    is_over,
    least_order_words,
    margin_words,
    spares_words,
    status_words,
)
from nesting.reports.small_part_words import small_parts_line
from nesting.reports.tables import Alike, account_rows, alike_bars
from nesting.reports.whereabouts import numbers_words, source_words, tail_words

LEGEND = "# trim  | saw stroke  --- piece, length in {unit}  ... offcut to keep  /// scrap"
_INK = {
    SegmentKind.TRIM: "#",
    SegmentKind.KERF: "|",
    SegmentKind.PIECE: "-",
    SegmentKind.OFFCUT: ".",
    SegmentKind.SCRAP: "/",
}
_INDENT = 2
_GROUPS_SHOWN = 8
# Narrower than this, the table of the materials has no room for their names.
_TABLE_WIDTH = 72


def print_plan(plan: Plan, console: Console, *, files: Sequence[Path] = (), bars_shown: int = 3) -> None:
    """
    Print the answer, how good it is, where the metal goes, a few bars to scale and what to mind.

    Parameters
    ----------
    files
        What was written, named at the end.
    bars_shown
        Distinct bars drawn per material.
    """
    lengths, loud = BothUnits.of(plan), loud_words(plan)
    if said := placed_words(plan):
        console.print(Text(said, style="bold"))
    for sentence in answer(plan):
        console.print(Text(sentence, style="bold" if sentence in loud else ""))
        if plan.unplaced and sentence == unplaced_words(plan):
            for out in plan.unplaced:
                said = f"{out.job} {out.piece or out.run}, {lengths.said(out.length)}: {out.reason}"
                console.print(_indented(Text(said)))
            console.print(_indented(Text(incomplete_words(plan))))
    if said := status_words(plan):
        console.print(Text(said))
    for said in (reserve_words(plan), least_order_words(plan)):
        if said:
            console.print(Text(said))
    if said := budget_words(plan):
        console.print(Text(said, style="bold" if is_over(plan) else ""))
    if said := unit_completion_words(plan):
        console.print(Text(said))
    if plan.small_parts is not None and (said := small_parts_line(plan.small_parts)):
        console.print(said)
    if plan.groups:
        console.print()
        if console.width < _TABLE_WIDTH:
            _print_groups(plan, console)
        else:
            console.print(_groups_table(plan))
        console.print(
            Text("waste: kerf, trim and scrap in what was opened; offcuts go back to the rack", "dim")
        )
    for group in plan.groups[:_GROUPS_SHOWN]:
        console.print()
        _print_bars(plan, group, console, bars_shown, lengths)
        for said in (
            alternative_words(group, plan.request.currency, lengths),
            margin_words(group, lengths),
            spares_words(group, lengths),
            *goal_words(plan, group),
        ):
            if said:
                console.print(_indented(Text(said)))
    if plan.groups:
        console.print()
        console.print(Text(LEGEND.format(unit=lengths.name), "dim"))
        if more := len(plan.groups) - _GROUPS_SHOWN if len(plan.groups) > _GROUPS_SHOWN else 0:
            console.print(f"{more} more material groups, in the cut list")
        console.print()
    for caution in (*plan_cautions(plan), *((MEASURE,) if plan.groups else ())):
        console.print(Text.assemble(("Mind: ", "bold"), caution))
    if files:
        console.print()
    for path in files:
        # Not wrapped, so that the path can be copied.
        console.print(Text(f"Written: {path}"), soft_wrap=True)


def bar_line(bar: PlannedBar, longest: int, width: int, lengths: BothUnits = METRIC) -> str:
    """
    Draw a bar to scale in one line of plain characters.

    Parameters
    ----------
    longest
        Length that fills the width, nanometres.
    width
        Characters for the longest bar.
    """
    segments = bar_segments(bar)
    cells = max(bar.length * width // longest, 1)
    return "".join(
        _ink(segment, count, lengths)
        for segment, count in zip(segments, cells_of(segments, cells, kerf_cells=1), strict=True)
    )


def _ink(segment: Segment, cells: int, lengths: BothUnits) -> str:
    ink = _INK[segment.kind]
    drawn = segment.kind in (SegmentKind.PIECE, SegmentKind.OFFCUT)
    label = f" {lengths.figure(segment.shown)} " if drawn else ""
    inked = (label if len(label) <= cells else "").center(cells, ink) if cells else ""
    if segment.marks and cells >= 2:
        # The faces of a mitred piece, drawn over its first and last cell.
        first, last = (ink if mark == "|" else mark for mark in segment.marks)
        inked = f"{first}{inked[1:-1]}{last}"
    return inked


def _groups_table(plan: Plan) -> Table:
    table = Table(box=box.ASCII2, show_edge=False, pad_edge=False, header_style="bold")
    table.add_column("material", overflow="fold", ratio=1)
    for heading in ("bars", "rack", "cost", "at least", "gap", "waste", "yield"):
        table.add_column(heading, justify="right", no_wrap=True)
    for group in plan.groups:
        table.add_row(
            str(group.material),
            str(len(group.bars)),
            str(sum(1 for bar in group.bars if bar.offcut)),
            _cost(group, group.cost),
            _cost(group, group.bound),
            gap_words(group),
            share_text(group.totals.waste_share),
            share_text(group.totals.yield_share),
        )
    last = account_rows(plan)[-1]
    if last.name == "all":
        rack = sum(1 for group in plan.groups for bar in group.bars if bar.offcut)
        shares = (share_text(last.totals.waste_share), share_text(last.totals.yield_share))
        table.add_section()
        table.add_row("all", str(last.totals.bars), str(rack), "", "", "", *shares)
    return table


def _print_groups(plan: Plan, console: Console) -> None:
    """Print what the table says as lines, for a window that is too narrow for it."""
    for group in plan.groups:
        rack = sum(1 for bar in group.bars if bar.offcut)
        bars = bars_words(len(group.bars)) + (f", {rack} from the rack" if rack else "")
        # Unpriced, the cost is the number of bars to buy, which stands in the answer.
        cost = f"; {_cost(group, group.cost)}" if group.priced else ""
        bound = "" if group.proved or group.bound <= 0 else f", at least {_cost(group, group.bound)}"
        gap = gap_words(group) if group.proved or group.bound <= 0 else f"gap {gap_words(group)}"
        shares = _shares(group.totals)
        console.print(Text(f"{group.material}: {bars}{cost}{bound}; {gap}; {shares}"))
    if len(plan.groups) > 1:
        console.print(Text(f"all: {bars_words(plan.totals.bars)}; {_shares(plan.totals)}"))


def _shares(totals: Totals) -> str:
    return f"waste {share_text(totals.waste_share)}, yield {share_text(totals.yield_share)}"


def _cost(group: GroupPlan, cost: int) -> str:
    return money_text(cost) if group.priced else bars_words(cost)


def _print_bars(plan: Plan, group: GroupPlan, console: Console, bars_shown: int, lengths: BothUnits) -> None:
    distinct = alike_bars(group)
    longest = max(bar.length for bar in group.bars) if group.bars else 1
    console.print(Text(f"{group.material}: {bars_words(len(group.bars))}, {len(distinct)} different", "bold"))
    for alike in distinct[:bars_shown]:
        console.print(_indented(Text(_bar_title(plan, alike, lengths))))
        line = bar_line(alike.bar, longest, max(console.width - 2 * _INDENT, 20), lengths)
        console.print(_indented(Text(line, no_wrap=True)))
    if len(distinct) > bars_shown:
        rest = sum(len(alike.numbers) for alike in distinct[bars_shown:])
        console.print(_indented(Text(f"and {bars_words(rest)} more, in the cut list")))


def _bar_title(plan: Plan, alike: Alike, lengths: BothUnits) -> str:
    count = len(alike.numbers)
    tail = tail_words(alike.bar, lengths)
    if count > 1 and alike.bar.fate is TailFate.OFFCUT:
        # Each of the alike bars gives an offcut with a tag of its own.
        tail = f"tail {lengths.said(alike.bar.tail)}, each back to the rack"
    named = f"bars {numbers_words(alike.numbers)}, alike" if count > 1 else f"bar {alike.numbers[0]}"
    return f"{named}: {source_words(plan, alike.bar, lengths)}; {tail}"


def _indented(text: Text) -> Padding:
    return Padding(text, (0, 0, 0, _INDENT), expand=False)
