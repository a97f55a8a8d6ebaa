"""The columns of families, stock, offcuts and saw, with the other headings people use for them."""

from __future__ import annotations

from nesting.sheets.column_types import Column, SheetKind, SheetPlan
from nesting.sheets.columns_runs import (
    FAMILY,
    FINISH,
    LENGTH,
    LENGTH_NAMES,
    LENGTH_UNIT,
    LOT,
    PART,
    QUANTITY,
    SPLITS,
)


def _family_length(field: str, heading: str, hint: str, *accepts: str) -> Column:
    return Column(field=field, heading=heading, accepts=accepts, length=True, width=14, hint=hint)


FAMILIES = SheetPlan(
    kind=SheetKind.FAMILIES,
    needs=("name",),
    tabs=("family", "profiles", "catalogue", "catalog", "channel families", "systems"),
    columns=(
        Column(
            field="name",
            heading="Family",
            accepts=("family name", "name", *FAMILY.accepts),
            weak=FAMILY.weak,
            width=14,
        ),
        Column(
            field="cap_style",
            heading="Cap style",
            accepts=("cap type", "end cap style", "end cap", "cap", "caps"),
            choices=("nose", "flush", "inner"),
            hint="nose: thickness outside, nose inside; flush: thickness only; inner: nose only.",
        ),
        _family_length(
            "cap_thickness", "Cap thickness", "Outside the channel end.", "cap t", "end cap thickness"
        ),
        _family_length("nose", "Nose", "Length of the cap inside the channel.", "cap nose", "nose length"),
        Column(
            field="cover_mode",
            heading="Cover mode",
            accepts=("cover", "cover cut", "cover cutting", "diffuser", "lens"),
            choices=("flush", "offset", "separate", "none"),
            hint="flush or offset: cut in one stroke with the channel; separate; none.",
        ),
        _family_length(
            "cover_play", "Cover play", "Taken off each cover for fit and heat.", "play", "cover gap"
        ),
        _family_length("clearance", "Clearance", "At each end of an opening.", "clearance each end", "gap"),
        Column(
            field="lot_rule",
            heading="Lot rule",
            accepts=("lot", "finish lot rule", "lots"),
            choices=("any", "room", "job"),
            hint="Which pieces must come from one finish lot.",
        ),
        Column(field="split_rule", heading="Split", accepts=("split rule", "joint rule"), choices=SPLITS),
        _family_length("joint_gap", "Joint gap", "Gap at each joint.", "gap at joint"),
        _family_length("shortest_section", "Shortest section", "Of a run in sections.", "min section"),
        _family_length(
            "strip_pitch", "Strip pitch", "Between cut marks: 50 mm, 5000/300 mm.", "cut pitch", "pitch"
        ),
        _family_length("strip_feed", "Strip feed", "Clearance for the leads.", "feed clearance", "lead in"),
        _family_length("strip_tail", "Strip tail", "Clearance at the far end.", "tail clearance"),
        LENGTH_UNIT,
    ),
)

STOCK = SheetPlan(
    kind=SheetKind.STOCK,
    needs=("family", "length"),
    tabs=("bars", "stock lengths", "stock list", "bar list", "price list", "prices"),
    columns=(
        FAMILY,
        FINISH,
        PART,
        Column(
            field="length",
            heading="Length",
            accepts=("bar length", "stock length", "nominal length", "bar", "len"),
            weak=LENGTH.weak,
            length=True,
            width=14,
        ),
        LENGTH_UNIT,
        Column(
            field="price",
            heading="Price",
            accepts=("price each", "price per bar", "unit price", "cost", "bar price", "cost each"),
            hint="Of one bar, decimal point, no currency sign.",
        ),
        Column(
            field="count",
            heading="Count",
            accepts=("on hand", "in stock", "available", "bars", "bars on hand", *QUANTITY.accepts),
            weak=("no", "number"),
            hint="Bars that can be had; blank means as many as needed.",
        ),
    ),
)

OFFCUTS = SheetPlan(
    kind=SheetKind.OFFCUTS,
    needs=("tag", "length"),
    tabs=("rack", "remnants", "offcut list", "off cuts", "leftovers", "remainders"),
    columns=(
        Column(
            field="tag",
            heading="Tag",
            accepts=("tag no", "offcut", "offcut tag", "offcut id", "id", "label", "remnant"),
            weak=("no", "item"),
            hint="Unique, never used again.",
        ),
        FAMILY,
        FINISH,
        PART,
        Column(
            field="length",
            heading="Length",
            accepts=("measured length", "offcut length", *LENGTH_NAMES),
            weak=LENGTH.weak,
            length=True,
            width=14,
            hint="Measured on the rack, not calculated.",
        ),
        LENGTH_UNIT,
        Column(
            field="left", heading="Left end", accepts=("end left", "left"), choices=("clean", "raw"), width=9
        ),
        Column(
            field="right",
            heading="Right end",
            accepts=("end right", "right"),
            choices=("clean", "raw"),
            width=9,
        ),
        LOT,
        Column(
            field="place",
            heading="Rack place",
            accepts=("place", "rack", "shelf", "location", "bay", "where"),
            width=18,
        ),
        Column(
            field="value",
            heading="Value",
            accepts=("worth", "cost"),
            hint="Cost of taking it; blank: nothing.",
        ),
    ),
)

SAW = SheetPlan(
    kind=SheetKind.SAW,
    needs=("name", "value"),
    tabs=("saws", "saw settings", "settings", "parameters", "machine"),
    columns=(
        Column(field="name", heading="Name", accepts=("setting", "parameter", "allowance", "item"), width=18),
        Column(field="value", heading="Value", accepts=("setting value", "channel saw", "saw"), width=18),
        Column(field="cover", heading="Cover saw", accepts=("cover", "cover value"), width=14),
        Column(field="meaning", heading="Meaning", accepts=("note", "notes", "what it is"), width=60),
    ),
)

SAW_LENGTHS = {
    "kerf": (
        "Kerf",
        ("blade", "blade width", "saw kerf", "cut width"),
        "Width the blade takes at each stroke.",
    ),
    "head_trim": ("Head trim", ("head", "first cut", "trim"), "Raw end to first clean face, kerf included."),
    "tail_loss": (
        "Tail loss",
        ("tail", "end loss", "tail trim"),
        "Last good face to the raw far end, kerf included.",
    ),
    "keep_length": (
        "Keep length",
        ("keep", "shortest offcut", "offcut from"),
        "A tail this long goes to the rack.",
    ),
    "grip": (
        "Grip",
        ("grip length", "shortest grip", "safe length"),
        "Shortest length that can be held safely.",
    ),
    "step": (
        "Saw step",
        ("step", "setting step", "stop step"),
        "The stop's setting step; 0 sets any length.",
    ),
}
SAW_TEXTS = {
    "title": ("Title", ("job title", "heading"), "Printed at the head of every sheet."),
    "currency": ("Currency", ("currency code",), "ISO 4217 code of the prices, three letters."),
    "unit": (
        "Length unit",
        ("unit", "units", "default unit"),
        "Unit of lengths written without one: mm, cm, m, in, ft.",
    ),
}
