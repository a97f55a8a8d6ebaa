"""The strip on its reels: what to cut off which, in order."""

from __future__ import annotations

from nesting.domain.plan import Plan
from nesting.domain.reels import ReelPlan
from nesting.sheets.plan_book import Book
from nesting.sheets.plan_list import Column, Kind, Value, write_list

_COLUMNS = (
    Column("strip", 14),
    Column("reel", 7, Kind.COUNT),
    Column("cut no.", 7, Kind.COUNT),
    Column("marks", 8, Kind.COUNT),
    Column("strip (mm)", 12, Kind.MM),
    Column("from reel start (mm)", 14, Kind.MM),
    Column("job", 16),
    Column("run", 16),
    Column("fixture", 9, Kind.COUNT),
    Column("piece", 7, Kind.COUNT),
    Column("left on reel (marks)", 12, Kind.COUNT),
)


def write_reels(book: Book, plan: Plan) -> None:
    """Write one row for every piece of strip; nothing where no family names its reel."""
    if not plan.reels:
        return
    rows = [row for one in plan.reels for row in _rows(one)]
    write_list(
        book,
        "Reels",
        "Reels",
        f"{' '.join(reels_words(one) for one in plan.reels)} Cut on marks only; nothing is lost at a cut.",
        _COLUMNS,
        rows,
        landscape=False,
        small=True,
    )


def reels_words(one: ReelPlan) -> str:
    """Say how many reels an article takes, and how good that is."""
    count = len(one.reels)
    said = f"{one.strip}: {count} reel{'s' if count != 1 else ''}"
    if one.proved:
        return f"{said}; fewer is impossible (proved)."
    return f"{said}; at least {one.bound} are needed."


def _rows(one: ReelPlan) -> list[tuple[Value, ...]]:
    rows: list[tuple[Value, ...]] = []
    for reel in one.reels:
        at = 0
        for number, cut in enumerate(reel.cuts, 1):
            at += cut.marks
            last = number == len(reel.cuts)
            rows.append(
                (
                    *(one.strip, reel.number, number, cut.marks),
                    *(int(cut.marks * one.pitch), int(at * one.pitch)),
                    *(cut.job, cut.run, cut.copy, cut.part),
                    reel.rest if last else None,
                )
            )
    return rows
