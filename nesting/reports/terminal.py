"""A plan on the terminal, readable without colour, at any width, and when piped into a file."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from rich import box
from rich.console import Console
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from nesting.domain.plan import GroupPlan, Plan, PlannedBar, TailFate
from nesting.money import money_text
from nesting.reports.answer import answer, bars_words, share_text, unplaced_words
from nesting.reports.bar_picture import Segment, SegmentKind, bar_segments, cells_of
from nesting.reports.cautions import MEASURE, plan_cautions
from nesting.reports.purchase_words import alternative_words, margin_words, status_words
from nesting.reports.small_part_words import small_parts_line
from nesting.reports.tables import Alike, account_rows, alike_bars
from nesting.reports.whereabouts import numbers_words, source_words, tail_words
from nesting.units import mm_text

LEGEND = "# trim  | saw stroke  --- piece, length in mm  ... offcut to keep  /// scrap"
_INK = {
    SegmentKind.TRIM: "#",
    SegmentKind.KERF: "|",
    SegmentKind.PIECE: "-",
    SegmentKind.OFFCUT: ".",
    SegmentKind.SCRAP: "/",
}
_INDENT = 2
_GROUPS_SHOWN = 8


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
    for sentence in answer(plan):
        console.print(Text(sentence, style="bold" if sentence == unplaced_words(plan) else ""))
        if plan.unplaced and sentence == unplaced_words(plan):
            for out in plan.unplaced:
                said = f"{out.job} {out.piece or out.run}, {mm_text(out.length)} mm: {out.reason}"
                console.print(_indented(Text(said)))
    if said := status_words(plan):
        console.print(Text(said))
    if plan.small_parts is not None and (said := small_parts_line(plan.small_parts)):
        console.print(said)
    if plan.groups:
        console.print()
        console.print(_groups_table(plan))
        console.print(
            Text("waste: kerf, trim and scrap in what was opened; offcuts go back to the rack", "dim")
        )
    for group in plan.groups[:_GROUPS_SHOWN]:
        console.print()
        _print_bars(plan, group, console, bars_shown)
        for said in (alternative_words(group, plan.request.currency), margin_words(group)):
            if said:
                console.print(_indented(Text(said)))
    if plan.groups:
        console.print()
        console.print(Text(LEGEND, "dim"))
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


def bar_line(bar: PlannedBar, longest: int, width: int) -> str:
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
        _ink(segment, count)
        for segment, count in zip(segments, cells_of(segments, cells, kerf_cells=1), strict=True)
    )


def _ink(segment: Segment, cells: int) -> str:
    ink = _INK[segment.kind]
    drawn = segment.kind in (SegmentKind.PIECE, SegmentKind.OFFCUT)
    label = f" {mm_text(segment.length)} " if drawn else ""
    return (label if len(label) <= cells else "").center(cells, ink) if cells else ""


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
            "proved" if group.proved else share_text(group.gap),
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


def _cost(group: GroupPlan, cost: int) -> str:
    return money_text(cost) if group.priced else bars_words(cost)


def _print_bars(plan: Plan, group: GroupPlan, console: Console, bars_shown: int) -> None:
    distinct = alike_bars(group)
    longest = max(bar.length for bar in group.bars) if group.bars else 1
    console.print(Text(f"{group.material}: {bars_words(len(group.bars))}, {len(distinct)} different", "bold"))
    for alike in distinct[:bars_shown]:
        console.print(_indented(Text(_bar_title(plan, alike))))
        line = bar_line(alike.bar, longest, max(console.width - 2 * _INDENT, 20))
        console.print(_indented(Text(line, no_wrap=True)))
    if len(distinct) > bars_shown:
        rest = sum(len(alike.numbers) for alike in distinct[bars_shown:])
        console.print(_indented(Text(f"and {bars_words(rest)} more, in the cut list")))


def _bar_title(plan: Plan, alike: Alike) -> str:
    count = len(alike.numbers)
    tail = tail_words(alike.bar)
    if count > 1 and alike.bar.fate is TailFate.OFFCUT:
        # Each of the alike bars gives an offcut with a tag of its own.
        tail = f"tail {mm_text(alike.bar.tail)} mm, each back to the rack"
    named = f"bars {numbers_words(alike.numbers)}, alike" if count > 1 else f"bar {alike.numbers[0]}"
    return f"{named}: {source_words(plan, alike.bar)}; {tail}"


def _indented(text: Text) -> Padding:
    return Padding(text, (0, 0, 0, _INDENT), expand=False)
