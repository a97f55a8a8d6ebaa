"""The columns that say whose a line is, where it goes and how sure it is."""

from __future__ import annotations

from nesting.sheets.column_types import Column

JOB = Column(
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
        *("order no", "order number", "works order no", "contract no", "contract number"),
        *("project no", "project number", "job ref"),
    ),
    width=18,
    hint="The order this line belongs to. Run ids are unique within a job.",
)
PLACE = (
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
NOTE = Column(
    field="note", heading="Note", accepts=("notes", "remark", "remarks", "comment", "comments"), width=24
)
STATUS = Column(
    field="status",
    heading="Status",
    accepts=("size status", "verified", "dimension status"),
    choices=("measured", "drawing", "verify", "hold", "cancelled"),
    width=11,
    hint="measured, drawing, verify, hold or cancelled. Cut only what is measured.",
)
ID_NAMES = (
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
LINE_NUMBERS = ("item", "item no", "line", "line no", "row", "pos")
