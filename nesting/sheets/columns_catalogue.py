"""The columns of families, stock, offcuts and saw, with the other headings people use for them."""

from __future__ import annotations

from nesting.sheets.column_types import Column, SheetKind, SheetPlan
from nesting.sheets.columns_material import FAMILY, FINISH, LENGTH, LENGTH_NAMES, LENGTH_UNIT, LOT, PART
from nesting.sheets.columns_runs import SPLITS


def _family_length(field: str, heading: str, hint: str, *accepts: str) -> Column:
    return Column(field=field, heading=heading, accepts=accepts, length=True, width=14, hint=hint)


def _family_number(field: str, heading: str, hint: str, *accepts: str) -> Column:
    return Column(field=field, heading=heading, accepts=accepts, width=14, hint=hint)


def _yes_no(field: str, heading: str, hint: str, *accepts: str) -> Column:
    return Column(field=field, heading=heading, accepts=accepts, choices=("yes", "no"), width=11, hint=hint)


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
        Column(
            field="strip_name",
            heading="Strip",
            accepts=("strip name", "strip article", "strip type", "strip kind"),
            width=14,
            hint="Article; families of one article share its reels.",
        ),
        _family_length("strip_width", "Strip width", "Of the tape itself; sharpens its length at mitres."),
        _family_number("weight", "Weight", "Kilograms a metre, with its cover.", "kg m", "kg per metre"),
        _family_number("strip_watts", "Strip watts", "Watts per metre.", "w m", "watts per metre", "watts"),
        _family_number("strip_volts", "Strip volts", "Supply voltage.", "volts", "voltage"),
        _family_length(
            "strip_longest",
            "Longest circuit",
            "Of strip fed from one end, by its data sheet.",
            "max run",
            "longest strip",
        ),
        _family_length("strip_longest_both", "Longest circuit fed both ends", "", "max run both ends"),
        _family_length(
            "strip_reel", "Strip reel", "A full reel; blank plans no reels.", "reel", "reel length"
        ),
        _family_length("strip_solder", "Solder joint every", "Factory joints of the strip.", "solder joints"),
        _family_length("strip_reach", "Connector reach", "Of solderless connectors; blank: soldered."),
        Column(
            field="wire",
            heading="Feed wire",
            accepts=("wire", "conductor"),
            width=12,
            hint="0.75 mm2, 18 AWG and the like; its drop is worked out as advice.",
        ),
        _family_length("wire_length", "Feed wire length", "One way.", "wire length"),
        _family_length("width", "Section width", "Needed for flat mitres.", "width", "profile width"),
        _family_length("height", "Section height", "Needed for standing mitres.", "height", "profile height"),
        _yes_no(
            "symmetric", "Symmetric", "Left-right, so that a mitred piece may be turned.", "symmetric section"
        ),
        _yes_no("handed_caps", "Handed caps", "yes: the left cap does not fit the right end.", "handed"),
        _family_length("clip_edge", "Clip edge", "First and last clip from the ends.", "clip edge distance"),
        _family_length(
            "clip_spacing",
            "Clip spacing",
            "Largest distance between clips; blank counts none.",
            "clip pitch",
            "clips every",
        ),
        _family_length(
            "clip_single_below", "One clip below", "Shorter channels take one.", "single clip below"
        ),
        _family_number("adhesive_rows", "Adhesive rows", "Rows of tape or beads.", "tape rows", "beads"),
        _family_length(
            "cover_stagger",
            "Cover stagger",
            "Least distance of separate cover joints from channel joints.",
            "cover joint distance",
        ),
        _yes_no("cover_coil", "Cover on coil", "yes: the cover has no joint.", "cover coil", "coil"),
        _family_number(
            "channel_expansion", "Channel expansion", "Per kelvin, such as 23.4e-6.", "channel alpha"
        ),
        _family_number("cover_expansion", "Cover expansion", "Per kelvin, such as 65e-6.", "cover alpha"),
        _family_number("heat_above", "Heat above", "Kelvin warmer than when cut.", "warmer by"),
        _family_number("heat_below", "Heat below", "Kelvin colder than when cut.", "colder by"),
        LENGTH_UNIT,
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
            money=True,
            hint="Cost of taking it; blank: nothing.",
        ),
        Column(
            field="born",
            heading="Born",
            accepts=("cut on", "date", "since", "in stock since", "on the rack since", "dated"),
            width=12,
            hint="Day it was cut, such as 2027-03-31; among equal fits the oldest is taken.",
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
    "purpose": (
        "Plan for",
        ("purpose", "plan is for"),
        "order (the default) plans drawing sizes too; cut plans measured sizes only. None takes holds.",
    ),
}
