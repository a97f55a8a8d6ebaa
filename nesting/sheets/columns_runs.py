"""The columns of run lists, with the other headings people use for them."""

from __future__ import annotations

from nesting.sheets.column_types import Column, SheetKind, SheetPlan
from nesting.sheets.columns_goals import DUE, PRIORITY
from nesting.sheets.columns_material import FAMILY, FINISH, LENGTH, LENGTH_UNIT, LOT, QUANTITY
from nesting.sheets.columns_place import ID_NAMES, JOB, LINE_NUMBERS, NOTE, PLACE, STATUS

ENDS = ("solid cap", "holed cap", "bare", "joint", "mitre 45")
SPLITS = ("equal", "full", "never")


def _end(side: str, *names: str) -> Column:
    first = side[0]
    accepts = (f"end {side}", f"{side} cap", f"cap {side}", f"end {first}", f"{first}h end", f"{first} end")
    return Column(
        field=side,
        heading=f"{side.title()} end",
        accepts=(*accepts, f"{side} end cap", f"end cap {side}", *names),
        weak=(side, f"{first}h"),
        choices=ENDS,
        width=11,
        hint="Seen facing the lit face: solid cap, holed cap, bare, joint, or a mitre with its angle from "
        "square: mitre 45, mitre 22.5 outside, mitre 45 standing.",
    )


def _partner(side: str) -> Column:
    return Column(
        field=f"partner_{side}",
        heading=f"{side.title()} corner to",
        accepts=(f"corner {side}", f"{side} partner", f"partner {side}", f"{side} corner run"),
        width=14,
        hint="Run id on the other side of a mitred corner.",
    )


def _clearance(side: str) -> Column:
    return Column(
        field=f"clearance_{side}",
        heading=f"Clearance {side}",
        accepts=(f"{side} clearance", f"gap {side}", f"{side} gap", f"clearance {side[0]}"),
        length=True,
        width=12,
        hint="Only for openings; blank takes the family's.",
    )


RUNS = SheetPlan(
    kind=SheetKind.RUNS,
    needs=("length",),
    tabs=("run list", "runs list", "take off", "takeoff", "schedule", "fixtures", "fixture schedule", "list"),
    columns=(
        JOB,
        *PLACE,
        Column(
            field="id",
            heading="Run",
            accepts=ID_NAMES,
            weak=LINE_NUMBERS,
            width=14,
            hint="Unique in its job; blank takes the row number.",
        ),
        QUANTITY,
        LENGTH,
        Column(
            field="opening",
            heading="Opening",
            accepts=("opening width", "opening size", "opening length", "clear opening", "inside opening"),
            weak=("reveal", "niche width"),
            length=True,
        ),
        Column(
            field="finished",
            heading="Finished length",
            accepts=("overall", "overall length", "finished size", "overall size", "finished overall"),
            length=True,
        ),
        Column(
            field="channel",
            heading="Channel length",
            accepts=("cut length", "profile length", "cutting length", "channel cut length", "cut size"),
            length=True,
        ),
        LENGTH_UNIT,
        Column(
            field="kind",
            heading="Length kind",
            accepts=(
                "kind of length",
                "kind",
                "measured as",
                "length type",
                "size kind",
                "dimension kind",
                "length is",
                "size is",
            ),
            choices=("opening", "finished", "channel", "long point", "short point", "centre line"),
            hint="opening (between two faces), finished (overall with caps) or channel (saw length); of a "
            "mitred run long point, short point or centre line, caps included.",
        ),
        _clearance("left"),
        _clearance("right"),
        Column(
            field="clearance",
            heading="Clearance each end",
            accepts=("clearance", "gap", "gap each end", "clearance per end"),
            length=True,
        ),
        FAMILY,
        FINISH,
        _end("left", "end 1", "start end", "start"),
        _end("right", "end 2", "far end", "finish end"),
        Column(field="ends", heading="Both ends", accepts=("ends", "end caps", "caps"), weak=("cap",)),
        Column(
            field="feed",
            heading="Feed",
            accepts=("feed side", "feed end", "cable side", "cable end", "power side", "driver side"),
            choices=("left", "right", "both", "back", "through"),
            hint="Where the leads enter; blank goes by the holed caps.",
        ),
        Column(
            field="feed_at",
            heading="Back exit at",
            accepts=("exit at", "feed at", "feed position", "cable exit at", "exit position"),
            length=True,
            width=12,
            hint="From the left end, for leads through the back.",
        ),
        _partner("left"),
        _partner("right"),
        Column(
            field="split",
            heading="Split",
            accepts=("split rule", "joint rule", "division", "long runs", "joints allowed"),
            choices=SPLITS,
            width=9,
            hint="Runs longer than a bar: equal sections, full bars first, or never.",
        ),
        LOT,
        STATUS,
        PRIORITY,
        DUE,
        NOTE,
    ),
)
