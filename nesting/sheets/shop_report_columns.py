"""The columns of the sheet "Shop report": what the plan fills in, and what the saw's operator does."""

from __future__ import annotations

from dataclasses import dataclass

from nesting.domain.report import Outcome
from nesting.sheets.plan_list import Column, Kind

TAB = "Shop report"
TITLE = "Shop report   plan "
GUIDE = (
    "Fill in the right half at the saw; a bar without an outcome is open. Leave the tail blank when it is as "
    "expected. A second wrong piece or damage: add a row with the same bar number. Damage is measured from "
    "the end that leads at the saw. Where a tail is too short though every piece is right, the bar was "
    "short: write yes there."
)
# What the plan says of each bar.
BAR, MATERIAL, SOURCE, LENGTH, PIECES, EXPECTED = (
    Column("bar", 7, Kind.COUNT),
    Column("material", 24),
    Column("source", 18),
    Column("bar length (mm)", 11, Kind.MM),
    Column("pieces in saw order", 46),
    Column("expected tail (mm)", 11, Kind.MM),
)
PLANNED = (BAR, MATERIAL, SOURCE, LENGTH, PIECES, EXPECTED)
# What is left blank for the shop.
OUTCOME, TAIL, MADE, PIECE, CAME_OUT, FROM, TO, SHORT, NOTE = (
    Column("outcome", 13),
    Column("measured tail (mm)", 12),
    Column("cuts made", 9),
    Column("wrong piece", 20),
    Column("came out (mm)", 11),
    Column("damage from (mm)", 12),
    Column("damage to (mm)", 12),
    Column("bar was short", 9),
    Column("note", 24),
)
BLANK = (OUTCOME, TAIL, MADE, PIECE, CAME_OUT, FROM, TO, SHORT, NOTE)


@dataclass(frozen=True, slots=True)
class Asked:
    """A field of the report: its heading in the plan's own sheet, and other words for it in lower case."""

    column: Column
    accepts: tuple[str, ...] = ()


FIELDS: dict[str, Asked] = {
    "bar": Asked(BAR, ("bar no", "bar number")),
    "source": Asked(SOURCE, ("offcut", "tag")),
    "outcome": Asked(OUTCOME, ("state", "status", "result")),
    "tail": Asked(TAIL, ("measured tail", "tail measured", "actual tail")),
    "made": Asked(MADE, ("cuts done",)),
    "piece": Asked(PIECE, ("mis cut piece", "miscut piece", "spoiled piece")),
    "length": Asked(CAME_OUT, ("came out", "length that came out", "actual length")),
    "start": Asked(FROM, ("damage from", "defect from")),
    "short": Asked(SHORT, ("short bar", "bar short")),
    "end": Asked(TO, ("damage to", "defect to")),
    "note": Asked(NOTE, ("notes", "remark")),
}
WORDS: dict[str, Outcome] = {
    **dict.fromkeys(("done", "cut", "finished", "ok", "yes", "x"), Outcome.DONE),
    **dict.fromkeys(("stopped", "given up", "damaged", "defect", "bar defect"), Outcome.STOPPED),
    **dict.fromkeys(("frozen", "freeze", "keep as it is"), Outcome.FROZEN),
    **dict.fromkeys(("not found", "lost", "missing"), Outcome.NOT_FOUND),
}
STILL_OPEN = frozenset({"open", "no", "not yet", "to do"})
