"""The strip of every run, equal strips of one family in one line with all their runs."""

from __future__ import annotations

from dataclasses import replace
from textwrap import wrap

from nesting.domain.material import Part
from nesting.domain.pieces import StripCut
from nesting.domain.plan import Plan
from nesting.sheets.plan_book import Book
from nesting.sheets.plan_list import Column, Kind, Value, write_list
from nesting.units import NO_LENGTH, Length, mm_text

_COLUMNS = (
    Column("job", 14),
    Column("family", 13),
    Column("strips", 7, Kind.COUNT),
    Column("marks", 7, Kind.COUNT),
    Column("circuits", 8, Kind.COUNT),
    Column("pieces (marks)", 12),
    Column("strip (mm)", 12, Kind.MM),
    Column("strip (inch)", 13, Kind.INCH),
    Column("dark (mm)", 12, Kind.MM),
    Column("channel for one more mark (mm)", 14, Kind.MM),
    Column("advice", 24),
    Column("runs (copies)", 84),
)
_ACROSS = 92  # characters of a line of runs


def write_strips(book: Book, plan: Plan) -> None:
    """Write the strips: whole marks, length, what stays dark, what one more mark would take, which runs."""
    # Plans older than the channel's length in a strip: the pieces of undivided runs still know it.
    whole = {(p.job, p.run): p.exact for p in plan.pieces if p.part is Part.CHANNEL and p.sections == 1}
    families = {(run.job, run.id): run.family for run in plan.request.runs}
    alike: dict[tuple[str, StripCut], list[StripCut]] = {}
    for strip in plan.strips:
        key = (strip.job, strip.run)
        channel = strip.channel or Length(whole.get(key, NO_LENGTH))
        model = replace(strip, run="", quantity=1, channel=channel)
        alike.setdefault((families.get(key, ""), model), []).append(strip)
    rows = [_row(family, model, strips) for (family, model), strips in alike.items()]
    write_list(
        book,
        "Strips",
        "Strips",
        "Cut on marks only. Dark: channel inside the caps without strip. Equal strips stand in one line.",
        _COLUMNS,
        rows,
        nothing="No strip in this plan.",
        small=True,
    )


def _row(family: str, model: StripCut, strips: list[StripCut]) -> tuple[Value, ...]:
    more = model.for_next_mark - model.channel if model.channel else 0
    return (
        model.job,
        family,
        sum(strip.quantity for strip in strips),
        model.marks,
        model.circuits,
        " + ".join(str(part) for part in model.parts or (model.marks,)),
        model.length,
        model.length,
        model.dark,
        model.for_next_mark,
        f"+{mm_text(more)} mm of channel gains one more mark" if more > 0 else "",
        _listed(strips),
    )


def _listed(strips: list[StripCut]) -> str:
    """Give the runs in lines of their own making: left to itself a cell breaks ids at their hyphens."""
    names = ", ".join(s.run if s.quantity == 1 else f"{s.run} ({s.quantity})" for s in strips)
    return "\n".join(wrap(names, _ACROSS, break_on_hyphens=False, break_long_words=False))
