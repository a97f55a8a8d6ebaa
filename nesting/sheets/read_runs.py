"""Run lines: what the length measures, the ends, the clearances, how a long run is divided."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from fractions import Fraction

from nesting.domain.electrics import Feed
from nesting.domain.material import SplitRule
from nesting.domain.mitre import Mitre, MitrePlane
from nesting.domain.runs import EndCondition, LengthKind, Place, Run
from nesting.errors import ProblemError
from nesting.sheets.columns import plain_words
from nesting.sheets.read_fill import Line
from nesting.sheets.read_lines import SHORT_ID, Common, LineReader
from nesting.sheets.read_values import choice_of, length_of, text_of
from nesting.takeoff.mitres import mitre_angle
from nesting.units import Length


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
    **dict.fromkeys(("long point", "long", "long edge", "tip to tip", "lp"), LengthKind.LONG_POINT),
    **dict.fromkeys(("short point", "short", "short edge", "sp"), LengthKind.SHORT_POINT),
    **dict.fromkeys(("centre line", "center line", "centreline", "centre", "cl"), LengthKind.CENTRE_LINE),
}
SPLITS = {
    **dict.fromkeys(("equal", "equal pieces", "equal sections", "even", "evenly"), SplitRule.EQUAL),
    **dict.fromkeys(("full", "full bars", "full lengths", "full first", "full bars first"), SplitRule.FULL),
    **dict.fromkeys(("never", "no", "none", "no joints", "one piece", "no joint"), SplitRule.NEVER),
}
_FEEDS = {
    **dict.fromkeys(("left", "l", "lh", "left end"), Feed.LEFT),
    **dict.fromkeys(("right", "r", "rh", "right end"), Feed.RIGHT),
    **dict.fromkeys(("both", "l r", "left and right", "both ends"), Feed.BOTH),
    **dict.fromkeys(("through", "through feed", "feed through", "loop"), Feed.THROUGH),
    **dict.fromkeys(("back", "rear", "back exit", "behind", "through the back"), Feed.BACK),
}
_NO_FEED = ("none", "no", "-")
_MITRE = re.compile(
    r"(?P<what>mitre|miter|corner)[:= ]*(?P<angle>[0-9]{1,3}(?:\.[0-9]{1,4})?) ?(?:°|deg|degrees)?"
    r"(?P<words>(?: ?(?:inside|internal|outside|external|flat|standing|upright|vertical))*)"
)
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
        feed = _feed(line, reader)
        ends = _ends(line, feed, reader)
        clearances = _clearances(line, reader)
        split = _split(line, reader)
        exit_at = _clearance(line, "feed_at", reader)
        reader.finish(line, common)
        if common is None:
            continue
        try:
            runs.append(_run(common, kind, ends, clearances, split, feed, exit_at, _partners(line, reader)))
        except ProblemError as why:
            reader.findings.error("cannot-exist", common.where, line.row.raw, str(why))
    return runs


def _run(
    common: Common,
    kind: LengthKind,
    ends: tuple[End, End],
    clearances: tuple[Length | None, Length | None],
    split: SplitRule | None,
    feed: Feed | None,
    exit_at: Length | None,
    partners: tuple[str, str],
) -> Run:
    return Run(
        job=common.job,
        id=common.id,
        family=common.family,
        finish=common.finish,
        quantity=common.quantity,
        length=common.reading.length,
        kind=kind,
        left=ends[0].condition,
        right=ends[1].condition,
        mitre_left=ends[0].mitre,
        mitre_right=ends[1].mitre,
        partner_left=partners[0],
        partner_right=partners[1],
        feed=feed,
        feed_at=exit_at,
        clearance_left=clearances[0],
        clearance_right=clearances[1],
        split_rule=split,
        lot=common.lot,
        place=common.place,
        status=common.status,
        priority=common.priority,
        due=common.due,
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


@dataclass(frozen=True, slots=True)
class End:
    """One end as read: its condition, and the corner of a mitred one."""

    condition: EndCondition
    mitre: Mitre | None = None


_SOLID = End(EndCondition.SOLID_CAP)
_HOLED = End(EndCondition.HOLED_CAP)


def _feed(line: Line, reader: LineReader) -> Feed | None:
    cell = line.cell("feed")
    if not cell.filled or plain_words(cell.text) in _NO_FEED or cell.text in _NO_FEED:
        return None
    return choice_of(cell, _FEEDS, "feed", reader.table.sheet.where(cell), reader.findings)


def _ends(line: Line, feed: Feed | None, reader: LineReader) -> tuple[End, End]:
    both = _end(line, "ends", reader)
    left = _end(line, "left", reader) or both
    right = _end(line, "right", reader) or both
    if feed in (Feed.LEFT, Feed.BOTH, Feed.THROUGH) and not left:
        left = _HOLED
    if feed in (Feed.RIGHT, Feed.BOTH, Feed.THROUGH) and not right:
        right = _HOLED
    for name, end in (("left", left), ("right", right)):
        if end is None and _end_unsaid(line, name):
            reader.default(f"{name}_end", "solid cap", line)
    return left or _SOLID, right or _SOLID


def _end_unsaid(line: Line, name: str) -> bool:
    return not line.cell(name).filled and not line.cell("ends").filled


def _end(line: Line, name: str, reader: LineReader) -> End | None:
    cell = line.cell(name)
    if not cell.filled:
        return None
    where = reader.table.sheet.where(cell)
    if cell.text.lower().startswith(("mitre", "miter", "corner")):
        mitre = mitre_of(cell.text)
        if mitre is None:
            reader.findings.error(
                "mitre-not-understood",
                where,
                cell.raw,
                "Give the angle from square, and outside or standing where it is so: mitre 45, mitre 22.5 "
                "outside, mitre 45 standing; or the corner: corner 90.",
            )
            return None
        return End(EndCondition.MITRE, mitre)
    condition = choice_of(cell, ENDS, "end", where, reader.findings)
    return End(condition) if condition else None


def mitre_of(text: str) -> Mitre | None:
    """Give the mitre of ``mitre 45 outside standing`` or ``corner 90``; None when it says something else."""
    match = _MITRE.fullmatch(" ".join(text.lower().replace(",", " ").split()))
    if match is None:
        return None
    words = match["words"].split()
    angle = Fraction(match["angle"])
    standing = bool({"standing", "upright", "vertical"} & set(words))
    try:
        return Mitre(
            mitre_angle(angle) if match["what"] == "corner" else angle,
            outside=bool({"outside", "external"} & set(words)),
            plane=MitrePlane.STANDING if standing else MitrePlane.FLAT,
        )
    except ProblemError:
        return None


def _partners(line: Line, reader: LineReader) -> tuple[str, str]:
    cells = (line.cell("partner_left"), line.cell("partner_right"))
    left, right = (text_of(cell, reader.table.sheet.where(cell), reader.findings) for cell in cells)
    return left, right


def _clearances(line: Line, reader: LineReader) -> tuple[Length | None, Length | None]:
    both = _clearance(line, "clearance", reader)
    left, right = (_clearance(line, name, reader) for name in ("clearance_left", "clearance_right"))
    return (both if left is None else left), (both if right is None else right)


def _clearance(line: Line, name: str, reader: LineReader) -> Length | None:
    cell = line.cell(name)
    if not cell.filled:
        return None
    lengths = reader.lengths
    unit = lengths.unit(name, line) or lengths.unit(reader.table.length_field, line)
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

    Ids that start afresh in every building, of whatever length, get the building in front: ``North-305-2``.
    Beside that only ids of up to three characters are touched: a longer one that occurs twice is more
    likely a row copied and not corrected, which has to be seen.
    """
    by_id: dict[tuple[str, str], list[Place]] = {}
    for run in runs:
        by_id.setdefault((run.job, run.id), []).append(run.place)
    by_building, by_unit = set(), set()
    for (job, identity), same in by_id.items():
        short = len(identity) <= SHORT_ID and all(place.unit for place in same)
        if len(same) < 2:
            continue
        if short and _all_differ([place.unit for place in same]):
            by_unit.add(job)
        elif _all_differ([place.building for place in same]):
            by_building.add(job)
        elif short and _all_differ([f"{place.building}\x1f{place.unit}" for place in same]):
            by_building.add(job)
            by_unit.add(job)
    return [
        _with_place(run, run.place.building if run.job in by_building else "", run.job in by_unit)
        for run in runs
    ]


def _all_differ(names: list[str]) -> bool:
    return all(names) and len(set(names)) == len(names)


def _with_place(run: Run, building: str, by_unit: bool) -> Run:
    def named(identity: str) -> str:
        if not identity:
            return ""
        unit = run.place.unit if by_unit and len(identity) <= SHORT_ID else ""
        return "-".join(part for part in (building, unit, identity) if part)

    return replace(
        run,
        id=named(run.id),
        partner_left=named(run.partner_left),
        partner_right=named(run.partner_right),
    )
