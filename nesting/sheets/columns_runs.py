"""The columns of run lists and piece lists, with the other headings people use for them."""

from __future__ import annotations

from nesting.sheets.column_types import Column, SheetKind, SheetPlan
from nesting.sheets.columns_goals import DUE, PRIORITY

ENDS = ("solid cap", "holed cap", "bare", "joint", "mitre 45")
SPLITS = ("equal", "full", "never")
_PARTS = ("channel", "cover")

_JOB = Column(
    field="job",
    heading="Job",
    accepts=(
        "job no",
        "job number",
        "job name",
        "project",
        "project name",
        "order",
        "contract",
        "works order",
    ),
    width=18,
    hint="The order this line belongs to. Run ids are unique within a job.",
)
_PLACE = (
    Column(field="building", heading="Building", accepts=("block", "tower", "bldg", "house"), width=16),
    Column(field="floor", heading="Floor", accepts=("level", "storey", "story", "flr", "lvl"), width=9),
    Column(
        field="unit",
        heading="Unit",
        accepts=("apartment", "apt", "flat", "suite", "unit no", "apartment no", "flat no", "apt no", "plot"),
        width=9,
    ),
    Column(field="room", heading="Room", accepts=("rm", "space", "room name"), weak=("area",), width=14),
    Column(
        field="spot",
        heading="Place",
        accepts=("spot", "position", "where", "place text"),
        weak=("location",),
        width=20,
        hint="Where in the room, in words.",
    ),
)
QUANTITY = Column(
    field="quantity",
    heading="Quantity",
    accepts=(
        *("qty", "qnty", "quant", "pcs", "pieces", "no off", "nos", "off", "each", "ea", "how many"),
        *("number of", "number off", "no of", "qty req", "qty required", "no pcs", "number of pieces", "stk"),
    ),
    weak=("no", "number", "count", "pc", "piece"),
    width=10,
    hint="Like fixtures on this line; blank counts as 1.",
)
LENGTH_NAMES = ("len", "lgth", "length each", "size length", "dimension", "dim", "measured", "measured size")
LENGTH = Column(
    field="length",
    heading="Length",
    accepts=LENGTH_NAMES,
    weak=("size", "width", "w", "l", "lg", "measurement", "dims"),
    length=True,
    width=14,
    hint="With its unit: 1806 mm, 2.4 m, 36 1/4 in, 3' 4-1/2\".",
)
LENGTH_UNIT = Column(
    field="length_unit",
    heading="Length unit",
    accepts=("uom", "units", "unit of measure", "unit of length", "measure unit", "mm in", "in mm"),
    choices=("mm", "cm", "m", "in", "ft"),
    width=11,
)
FAMILY = Column(
    field="family",
    heading="Family",
    accepts=(
        *(
            "profile",
            "extrusion",
            "channel",
            "channel type",
            "profile type",
            "profile name",
            "channel family",
        ),
        *("profile family", "system", "series", "fixture family"),
    ),
    weak=("type", "model", "product", "section", "fixture type"),
    width=14,
    hint="Channel family, as the Families sheet spells it.",
)
FINISH = Column(
    field="finish",
    heading="Finish",
    accepts=(
        "colour",
        "color",
        "coating",
        "anodise",
        "anodising",
        "profile colour",
        "shade",
        "finish colour",
    ),
    width=12,
)
LOT = Column(field="lot", heading="Lot", accepts=("finish lot", "dye lot", "batch", "lot no"), width=10)
PART = Column(
    field="part", heading="Part", accepts=("part type", "kind of part", "component"), choices=_PARTS, width=10
)
_NOTE = Column(
    field="note", heading="Note", accepts=("notes", "remark", "remarks", "comment", "comments"), width=24
)
_STATUS = Column(
    field="status",
    heading="Status",
    accepts=("size status", "verified", "dimension status"),
    choices=("measured", "drawing", "verify", "hold", "cancelled"),
    width=11,
    hint="measured, drawing, verify, hold or cancelled. Cut only what is measured.",
)
_RUN_ID_NAMES = (
    "run id",
    "run no",
    "run ref",
    "id",
    "ref",
    "reference",
    "tag",
    "fixture",
    "fixture id",
    "mark",
)


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
        _JOB,
        *_PLACE,
        Column(
            field="id",
            heading="Run",
            accepts=_RUN_ID_NAMES,
            weak=("item", "item no", "line", "line no", "row", "pos"),
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
        _STATUS,
        PRIORITY,
        DUE,
        _NOTE,
    ),
)

PIECES = SheetPlan(
    kind=SheetKind.PIECES,
    needs=("length",),
    tabs=("piece list", "pieces list", "cut pieces", "cut list", "cutting list", "parts list"),
    columns=(
        _JOB,
        *_PLACE,
        Column(
            field="id",
            heading="Piece",
            accepts=("piece id", "piece no", *_RUN_ID_NAMES, "run"),
            weak=("item", "item no", "line", "line no", "row", "pos"),
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
        _STATUS,
        PRIORITY,
        DUE,
        _NOTE,
    ),
)
