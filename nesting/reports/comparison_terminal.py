"""A comparison on the terminal, readable without colour, at any width, and when piped into a file."""

from __future__ import annotations

from rich import box
from rich.console import Console
from rich.table import Table
from rich.text import Text

from nesting.advice.comparison import Choice, Comparison
from nesting.money import money_text
from nesting.reports.comparison_words import (
    ASSUMED,
    FRESH,
    advice_words,
    cost_words,
    cover_words,
    gap_words,
    level_words,
    mix_rows,
    more_words,
)


def print_comparison(comparison: Comparison, console: Console) -> None:
    """Print what lengths to buy, what parts cost, how to cut covers, and what it all comes to."""
    currency = comparison.currency
    rows = mix_rows(comparison)
    if rows:
        console.print(Text("Which lengths to buy", "bold"))
        table = _table("purchase", ("bars", "left"), ("cost", "right"), ("against the mix", "right"))
        for position, row in enumerate(rows):
            if position == 0 or rows[position - 1].mix.material != row.mix.material:
                table.add_section()
                table.add_row(Text(str(row.mix.material), "bold"), "", "", "")
            priced = row.mix.priced
            assumed = f" at {money_text(row.mix.assumed)}" if row.mix.assumed is not None else ""
            cost = cost_words(row.mix.cost, "", priced=priced)
            cost += gap_words(row.mix)
            table.add_row(f"  {row.name}{assumed}", row.bars, cost, more_words(row.more, "", priced=priced))
        console.print(table)
        if any(row.mix.choice is Choice.UNLISTED for row in rows):
            console.print(Text(ASSUMED, "dim"))
    if len(comparison.groupings) > 1:
        console.print()
        console.print(Text("Ordered and cut together, or in parts", "bold"))
        whole = comparison.groupings[0]
        priced = any(mix.priced for mix in comparison.mixes)
        table = _table("planned", ("bars", "right"), ("cost", "right"), ("against all together", "right"))
        for grouping in comparison.groupings:
            more = more_words(grouping.cost - whole.cost, "", priced=priced)
            cost = cost_words(grouping.cost, "", priced=priced)
            cost += gap_words(grouping)
            table.add_row(level_words(grouping), str(grouping.bars), cost, more)
        console.print(table)
        console.print(Text(FRESH, "dim"))
    if comparison.covers:
        console.print()
        console.print(Text("How to cut covers", "bold"))
        table = _table("covers", ("channel bars", "right"), ("cover bars", "right"), ("cost", "right"))
        for choice in comparison.covers:
            name = f"{choice.family} {choice.finish}".strip()
            cost = cost_words(choice.cost, "", priced=choice.priced)
            cost += gap_words(choice)
            counts = (str(choice.channels), str(choice.covers))
            table.add_row(f"{name}, {cover_words(choice)}", *counts, cost)
        console.print(table)
    console.print()
    for said in advice_words(comparison):
        console.print(Text(said))
    if currency:
        console.print(Text(f"All amounts in {currency}.", "dim"))


def _table(first: str, *others: tuple[str, str]) -> Table:
    table = Table(box=box.ASCII2, show_edge=False, pad_edge=False, header_style="bold")
    table.add_column(first, overflow="fold")
    for heading, side in others:
        table.add_column(heading, justify="right" if side == "right" else "left", overflow="fold")
    return table
