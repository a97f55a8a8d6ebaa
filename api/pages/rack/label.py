"""The label of an offcut, to be printed from the browser and stuck on the metal."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from api.pages.rack.one import OffcutView
from nesting.paper.codes import code_rows


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelView:
    """
    What the label says.

    Parameters
    ----------
    code
        Path of the code's dark modules, one unit a module; empty where the tag is too long for a code.
    side
        Modules a side.
    """

    tag: str
    length: str
    other_length: str
    what: str
    ends: str
    where: str
    born: str
    code: str
    side: int


def label_of(offcut: OffcutView) -> LabelView:
    """Set out the label of an offcut; its code is the tag alone, which no plan can make stale."""
    line = offcut.line
    rows = code_rows(line.tag) or ()
    material = " ".join(part for part in (line.family, line.finish, line.part) if part)
    return LabelView(
        tag=line.tag,
        length=line.length,
        other_length=line.other_length,
        what=f"{material}, lot {line.lot}" if line.lot else material,
        ends=line.ends,
        where=f"rack {line.place}" if line.place else "rack ________",
        born=f"{offcut.born.name}, bar {offcut.born_bar}"
        if offcut.born
        else f"on the rack since {line.since}",
        code=_path(rows),
        side=len(rows),
    )


def _path(rows: Sequence[bytes]) -> str:
    """Join the dark modules of each row into strips."""
    strips = []
    for y, row in enumerate(rows):
        x = 0
        while x < len(row):
            end = x
            while end < len(row) and row[end]:
                end += 1
            if end > x:
                strips.append(f"M{x} {y}h{end - x}v1h-{end - x}z")
            x = max(end, x + 1)
    return "".join(strips)
