"""The columns of piece lists, with the other headings people use for them."""

from __future__ import annotations

from nesting.sheets.column_types import Column, SheetKind, SheetPlan
from nesting.sheets.columns_goals import DUE, PRIORITY
from nesting.sheets.columns_material import (
    FAMILY,
    FINISH,
    LENGTH,
    LENGTH_NAMES,
    LENGTH_UNIT,
    LOT,
    PART,
    QUANTITY,
)
from nesting.sheets.columns_place import ID_NAMES, JOB, LINE_NUMBERS, NOTE, PLACE, STATUS

PIECES = SheetPlan(
    kind=SheetKind.PIECES,
    needs=("length",),
    tabs=("piece list", "pieces list", "cut pieces", "cut list", "cutting list", "parts list"),
    columns=(
        JOB,
        *PLACE,
        Column(
            field="id",
            heading="Piece",
            accepts=("piece id", "piece no", *ID_NAMES, "run"),
            weak=LINE_NUMBERS,
            width=14,
            hint="Unique in its job; blank takes the row number.",
        ),
        Column(
            field="quantity",
            heading="Quantity",
            accepts=QUANTITY.accepts,
            weak=("no", "number", "count", "pc"),
            width=10,
        ),
        Column(
            field="length",
            heading="Length",
            accepts=(*LENGTH_NAMES, "cut length", "piece length", "channel length", "cut size"),
            weak=LENGTH.weak,
            length=True,
            width=14,
            hint="What the saw is set to, with its unit.",
        ),
        LENGTH_UNIT,
        FAMILY,
        FINISH,
        PART,
        LOT,
        STATUS,
        PRIORITY,
        DUE,
        NOTE,
    ),
)
