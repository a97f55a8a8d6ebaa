"""Which sheet of a workbook is which, by its tab's name and by its headings."""

from __future__ import annotations

import re
from collections.abc import Sequence

from nesting.sheets.cells import Row, Sheet
from nesting.sheets.columns import (
    FAMILIES,
    OFFCUTS,
    PIECES,
    RUNS,
    SAW,
    STOCK,
    SheetPlan,
    match_heading,
    plain_words,
    plan_for_tab,
)
from nesting.sheets.findings import Findings, listed
from nesting.sheets.read_header import find_header
from nesting.sheets.read_saw import looks_like_saw

_REVISION = re.compile(
    r"\b(?:rev|revision|ver|version|v|issue|iss)\b[ ._-]*[a-z0-9]{0,3}\b|\b(?:rev|v)[0-9]{1,2}\b|\([0-9]+\)"
    r"|\b(?:old|new|superseded|copy|copy of|backup|previous|draft|current|latest)\b",
    re.IGNORECASE,
)
_FAMILY_ONLY = {"cap_style", "cap_thickness", "nose", "cover_mode", "strip_pitch", "lot_rule"}
_RUN_ONLY = {
    "opening",
    "kind",
    "clearance_left",
    "clearance_right",
    "clearance",
    "left",
    "right",
    "ends",
    "feed",
    "split",
}
_RUN_KINDS = {"opening", "finished"}
_RUN_WORDS = {"run", "runs", "fixture", "fixtures", "take off", "takeoff"}
_PLACES = {"building", "floor", "unit", "room", "spot"}


def plan_of(sheet: Sheet) -> SheetPlan | None:
    """
    Give the kind of a sheet: what its tab says when its headings agree, else what its headings say.

    A tab that says bars or offcuts is believed even so: as a list of lengths they would be sawn.
    """
    said = plan_for_tab(re.sub(r"\.csv$", "", sheet.name, flags=re.IGNORECASE))
    if said is SAW or looks_like_saw(sheet):
        return SAW
    if said is not None and find_header(said, sheet):
        return said
    met = _by_headings(sheet)
    return said if said in (STOCK, OFFCUTS) and met in (RUNS, PIECES) else met or said


def says_runs(sheet: Sheet) -> bool:
    """Tell whether a list says that it is of runs: by its tab or a column that only a run has."""
    tab = plain_words(re.sub(r"\.csv$", "", sheet.name, flags=re.IGNORECASE))
    header = find_header(RUNS, sheet)
    if header is None or _speaks_of_runs(tab):
        return True
    if _fields(RUNS, header) & (_RUN_ONLY | _RUN_KINDS):
        return True
    return any(_speaks_of_runs(plain_words(cell.text)) for cell in header.cells.values())


def only_lengths(sheet: Sheet) -> bool:
    """Tell whether a list is bare: it names no family and no place that a fixture could hang in."""
    header = find_header(RUNS, sheet)
    return header is not None and not _fields(RUNS, header) & (_PLACES | {"family"})


def _speaks_of_runs(plain: str) -> bool:
    return any(f" {word} " in f" {plain} " for word in _RUN_WORDS)


def _by_headings(sheet: Sheet) -> SheetPlan | None:
    families = find_header(FAMILIES, sheet)
    if families and _fields(FAMILIES, families) & _FAMILY_ONLY:
        return FAMILIES
    offcuts = find_header(OFFCUTS, sheet)
    if offcuts and any(
        re.search(r"offcut|off cut|remnant|rack", plain_words(c.text)) for c in offcuts.cells.values()
    ):
        return OFFCUTS
    runs = find_header(RUNS, sheet)
    meant = _fields(RUNS, runs) if runs else set()
    stock = find_header(STOCK, sheet)
    if stock and {"family", "price"} <= _fields(STOCK, stock) and not meant & (_PLACES | _RUN_ONLY):
        return STOCK
    pieces = find_header(PIECES, sheet)
    if pieces and "part" in _fields(PIECES, pieces) and not meant & _RUN_ONLY:
        return PIECES
    return RUNS if runs else None


def _fields(plan: SheetPlan, header: Row) -> set[str]:
    return {found[0].field for cell in header.cells.values() if (found := match_heading(plan, cell.text))}


def ask_about_revisions(sheets: Sequence[Sheet], findings: Findings) -> None:
    """Ask which list counts when tabs look like revisions or copies of one another."""
    groups: dict[str, list[Sheet]] = {}
    for sheet in sheets:
        groups.setdefault(plain_words(_REVISION.sub(" ", sheet.name.replace("_", " "))), []).append(sheet)
    for group in groups.values():
        if len(group) > 1:
            findings.ask(
                "revision-tabs",
                group[-1].where(),
                listed([sheet.name for sheet in group]),
                "These tabs look like revisions of one list; keep the one that counts in the workbook.",
            )
