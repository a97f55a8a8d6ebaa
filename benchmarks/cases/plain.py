"""Any folder of text files in one of the public library's two plain forms."""

from __future__ import annotations

from pathlib import Path

from benchmarks.case import Case, CaseClass
from benchmarks.read import read_plain

# 6 + 4 and 5 + 5 fill two bars of 10; first in the cutting-stock form, then one piece a line.
TINY_CUTTING_STOCK = "3\n10\n6 1\n5 2\n4 1\n"
TINY_BIN_PACKING = "4\n10\n6\n5\n5\n4\n"


def _load(folder: Path) -> tuple[Case, ...]:
    return tuple(
        Case(name=path.stem, problem=read_plain(path.read_text("utf-8"), path.stem))
        for path in sorted(folder.glob("*.txt"))
    )


def _tiny() -> Case:
    return Case(name="tiny", problem=read_plain(TINY_CUTTING_STOCK, "tiny"), best_known=2, optimal=True)


CLASSES = (
    CaseClass(
        name="plain",
        source="*.txt of the folder given: items, bar length, then 'length demand' or 'length' lines",
        licence="whatever the folder's owner says",
        load=_load,
        tiny=_tiny,
    ),
)
