"""The columns that say of what, how long and how many, on every sheet that lists metal."""

from __future__ import annotations

from nesting.sheets.column_types import Column

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
    field="part",
    heading="Part",
    accepts=("part type", "kind of part", "component"),
    choices=("channel", "cover"),
    width=10,
)
