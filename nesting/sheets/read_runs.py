"""Run lines: what the length measures, the ends, the clearances, how a long run is divided."""

from __future__ import annotations

from dataclasses import replace
from enum import StrEnum

from nesting.domain.material import SplitRule
from nesting.domain.runs import EndCondition, LengthKind, Run
from nesting.sheets.read_fill import Line
from nesting.sheets.read_lines import Common, LineReader
from nesting.sheets.read_values import choice_of, length_of
from nesting.units import Length


class Side(StrEnum):
    """Where a feed enters, seen facing the lit face."""

    LEFT = "left"
    RIGHT = "right"
    BOTH = "both"
    NONE = "none"


def _names(table: dict[EndCondition, str]) -> dict[str, EndCondition]:
    return {name.strip(): end for end, names in table.items() for name in (*names.split(","), end.value)}


ENDS = _names(
    {
        EndCondition.SOLID_CAP: "solid,cap,capped,closed,end cap,blank cap,plain cap,plain,blind,closed cap",
        EndCondition.HOLED_CAP: "holed,hole,feed,feed cap,cap with hole,with hole,cable,cable exit,"
        "cable cap,lead,lead out,wire,drilled,open cap,hole cap,feed end",
        EndCondition.BARE: "open,none,no cap,wall,bare to wall,to wall,uncapped,no,raw",
        EndCondition.JOINT: "join,joined,butt,butt joint,continuous,continues,splice,connector,coupled",
    }
)
KINDS = {
    **dict.fromkeys(
        ("opening", "opening inside", "inside", "reveal", "clear", "clear opening"), LengthKind.OPENING
    ),
    **dict.fromkeys(("finished", "finished overall", "overall", "finished length"), LengthKind.FINISHED),
    **dict.fromkeys(("channel", "channel length", "cut", "cut length", "saw length"), LengthKind.CHANNEL),
}
SPLITS = {
    **dict.fromkeys(("equal", "equal pieces", "equal sections", "even", "evenly"), SplitRule.EQUAL),
    **dict.fromkeys(("full", "full bars", "full lengths", "full first", "full bars first"), SplitRule.FULL),
    **dict.fromkeys(("never", "no", "none", "no joints", "one piece", "no joint"), SplitRule.NEVER),
}
_FEEDS = {
    **dict.fromkeys(("left", "l", "lh"), Side.LEFT),
    **dict.fromkeys(("right", "r", "rh"), Side.RIGHT),
    **dict.fromkeys(("both", "l r", "left and right", "through", "both ends"), Side.BOTH),
    **dict.fromkeys(("none", "no"), Side.NONE),
}
_KIND_BY_COLUMN = {
    "opening": LengthKind.OPENING,
    "channel": LengthKind.CHANNEL,
    "finished": LengthKind.FINISHED,
}


def read_runs(reader: LineReader) -> list[Run]:
    """Give the runs of one list; lines that cannot be read leave findings instead."""
    runs = []
    for line, common in reader.lines():
        kind = _kind(line, reader)
        ends = _ends(line, reader)
        clearances = _clearances(line, reader)
        split = _split(line, reader)
        reader.finish(line, common)
        if common is not None:
            runs.append(_run(common, kind, ends, clearances, split))
    return runs


def _run(
    common: Common,
    kind: LengthKind,
    ends: tuple[EndCondition, EndCondition],
    clearances: tuple[Length | None, Length | None],
    split: SplitRule | None,
) -> Run:
    return Run(
        job=common.job,
        id=common.id,
        family=common.family,
        finish=common.finish,
        quantity=common.quantity,
        length=common.reading.length,
        kind=kind,
        left=ends[0],
        right=ends[1],
        clearance_left=clearances[0],
        clearance_right=clearances[1],
        split_rule=split,
        lot=common.lot,
        place=common.place,
        note=common.note,
        where=common.where,
        extra=common.extra,
    )


def _kind(line: Line, reader: LineReader) -> LengthKind:
    by_column = _KIND_BY_COLUMN.get(reader.table.length_field)
    cell = line.cell("kind")
    if cell.filled:
        where = reader.table.sheet.where(cell)
        kind = choice_of(cell, KINDS, "length kind", where, reader.findings)
        if kind and by_column and kind is not by_column:
            reader.findings.ask(
                "two-kinds",
                where,
                cell.raw,
                f"The heading of the length says {by_column.value}; keep one.",
            )
        return kind or LengthKind.FINISHED
    if by_column is None:
        reader.default("kind", "finished", line)
    return by_column or LengthKind.FINISHED


def _ends(line: Line, reader: LineReader) -> tuple[EndCondition, EndCondition]:
    both = _end(line, "ends", reader)
    left = _end(line, "left", reader) or both
    right = _end(line, "right", reader) or both
    cell = line.cell("feed")
    feed = (
        choice_of(cell, _FEEDS, "feed", reader.table.sheet.where(cell), reader.findings)
        if cell.filled
        else None
    )
    if feed in (Side.LEFT, Side.BOTH) and not left:
        left = EndCondition.HOLED_CAP
    if feed in (Side.RIGHT, Side.BOTH) and not right:
        right = EndCondition.HOLED_CAP
    for name, end in (("left", left), ("right", right)):
        if end is None and _end_unsaid(line, name):
            reader.default(f"{name}_end", "solid cap", line)
    return left or EndCondition.SOLID_CAP, right or EndCondition.SOLID_CAP


def _end_unsaid(line: Line, name: str) -> bool:
    return not line.cell(name).filled and not line.cell("ends").filled


def _end(line: Line, name: str, reader: LineReader) -> EndCondition | None:
    cell = line.cell(name)
    if not cell.filled:
        return None
    where = reader.table.sheet.where(cell)
    if cell.text.lower().startswith(("mitre", "miter")):
        reader.findings.error(
            "mitre-not-planned",
            where,
            cell.raw,
            "Mitred ends are not planned; give the long-point length as a piece, its kerf allowed for.",
        )
        return None
    return choice_of(cell, ENDS, "end", where, reader.findings)


def _clearances(line: Line, reader: LineReader) -> tuple[Length | None, Length | None]:
    both = _clearance(line, "clearance", reader)
    left, right = (_clearance(line, name, reader) for name in ("clearance_left", "clearance_right"))
    return (both if left is None else left), (both if right is None else right)


def _clearance(line: Line, name: str, reader: LineReader) -> Length | None:
    cell = line.cell(name)
    if not cell.filled:
        return None
    unit = reader.unit(name, line) or reader.unit(reader.table.length_field, line)
    reading = length_of(cell, unit, reader.table.sheet.where(cell), reader.findings, may_be_zero=True)
    return reading.length if reading else None


def _split(line: Line, reader: LineReader) -> SplitRule | None:
    cell = line.cell("split")
    if not cell.filled:
        return None
    return choice_of(cell, SPLITS, "split", reader.table.sheet.where(cell), reader.findings)


def qualified(runs: list[Run]) -> list[Run]:
    """
    Put the unit before short run numbers that start afresh in every unit: ``305-2``.

    Only ids of up to three characters are touched: a longer one that occurs twice is more likely a
    row copied and not corrected, which has to be seen.
    """
    by_id: dict[tuple[str, str], list[Run]] = {}
    for run in runs:
        by_id.setdefault((run.job, run.id), []).append(run)
    jobs = set()
    for (job, identity), same in by_id.items():
        units = [run.place.unit for run in same]
        if len(same) > 1 and len(identity) <= 3 and all(units) and len(set(units)) == len(units):
            jobs.add(job)
    return [
        replace(run, id=f"{run.place.unit}-{run.id}")
        if run.job in jobs and run.place.unit and len(run.id) <= 3
        else run
        for run in runs
    ]
