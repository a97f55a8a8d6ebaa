"""
The columns of the input workbook: their own headings, and the other headings people use for them.

A heading is matched by meaning: case, punctuation, brackets and a unit in it do not count. A *weak*
heading ("No.", "Type", "Size") is taken only where no other column claims the same field.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from enum import StrEnum


class SheetKind(StrEnum):
    """The sheets a workbook may hold, by their own names."""

    RUNS = "Runs"
    PIECES = "Pieces"
    FAMILIES = "Families"
    STOCK = "Stock"
    OFFCUTS = "Offcuts"
    SAW = "Saw"


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """
    One column of one kind of sheet.

    Parameters
    ----------
    field
        Name of the value it carries.
    heading
        Heading in the template; cannot be mistaken for another column's.
    accepts, weak
        Other headings with the same meaning, in plain lower case.
    choices
        Texts its drop-down offers; empty when anything goes.
    length
        Whether its cells are lengths.
    width
        Width in the template, in characters.
    hint
        What to put in, for the guide; empty when the heading says it.
    """

    field: str
    heading: str
    accepts: tuple[str, ...] = ()
    weak: tuple[str, ...] = ()
    choices: tuple[str, ...] = ()
    length: bool = False
    width: int = 12
    hint: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetPlan:
    """One kind of sheet: its columns, the fields it cannot do without, other names for its tab."""

    kind: SheetKind
    columns: tuple[Column, ...]
    needs: tuple[str, ...]
    tabs: tuple[str, ...] = ()

    def column(self, field: str) -> Column:
        """Give the first column that carries a field."""
        return next(column for column in self.columns if column.field == field)


ENDS = ("solid cap", "holed cap", "bare", "joint")
_SPLITS = ("equal", "full", "never")
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
_QUANTITY = Column(
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
_LENGTH_NAMES = ("len", "lgth", "length each", "size length", "dimension", "dim", "measured", "measured size")
_LENGTH = Column(
    field="length",
    heading="Length",
    accepts=_LENGTH_NAMES,
    weak=("size", "width", "w", "l", "lg", "measurement", "dims"),
    length=True,
    width=14,
    hint="With its unit: 1806 mm, 2.4 m, 36 1/4 in, 3' 4-1/2\".",
)
_LENGTH_UNIT = Column(
    field="length_unit",
    heading="Length unit",
    accepts=("uom", "units", "unit of measure", "unit of length", "measure unit", "mm in", "in mm"),
    choices=("mm", "cm", "m", "in", "ft"),
    width=11,
)
_FAMILY = Column(
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
_FINISH = Column(
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
_LOT = Column(field="lot", heading="Lot", accepts=("finish lot", "dye lot", "batch", "lot no"), width=10)
_PART = Column(
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
        hint="Seen facing the lit face: solid cap, holed cap, bare or joint.",
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
        _QUANTITY,
        _LENGTH,
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
        _LENGTH_UNIT,
        Column(
            field="kind",
            heading="Length kind",
            accepts=("kind of length", "kind", "measured as", "length type", "size kind", "dimension kind"),
            choices=("opening", "finished", "channel"),
            hint="opening (between two faces), finished (overall with caps) or channel (saw length).",
        ),
        _clearance("left"),
        _clearance("right"),
        Column(
            field="clearance",
            heading="Clearance each end",
            accepts=("clearance", "gap", "gap each end", "clearance per end"),
            length=True,
        ),
        _FAMILY,
        _FINISH,
        _end("left", "end 1", "start end", "start"),
        _end("right", "end 2", "far end", "finish end"),
        Column(field="ends", heading="Both ends", accepts=("ends", "end caps", "caps"), weak=("cap",)),
        Column(
            field="feed",
            heading="Feed",
            accepts=("feed side", "feed end", "cable side", "cable end", "power side", "driver side"),
        ),
        Column(
            field="split",
            heading="Split",
            accepts=("split rule", "joint rule", "division", "long runs", "joints allowed"),
            choices=_SPLITS,
            width=9,
            hint="Runs longer than a bar: equal sections, full bars first, or never.",
        ),
        _LOT,
        _STATUS,
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
            accepts=_QUANTITY.accepts,
            weak=("no", "number", "count", "pc"),
            width=10,
        ),
        Column(
            field="length",
            heading="Length",
            accepts=(*_LENGTH_NAMES, "cut length", "piece length", "channel length", "cut size"),
            weak=_LENGTH.weak,
            length=True,
            width=14,
            hint="What the saw is set to, with its unit.",
        ),
        _LENGTH_UNIT,
        _FAMILY,
        _FINISH,
        _PART,
        _LOT,
        _STATUS,
        _NOTE,
    ),
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
            accepts=("family name", "name", *_FAMILY.accepts),
            weak=_FAMILY.weak,
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
        Column(field="split_rule", heading="Split", accepts=("split rule", "joint rule"), choices=_SPLITS),
        _family_length("joint_gap", "Joint gap", "Gap at each joint.", "gap at joint"),
        _family_length("shortest_section", "Shortest section", "Of a run in sections.", "min section"),
        _family_length(
            "strip_pitch", "Strip pitch", "Between cut marks: 50 mm, 5000/300 mm.", "cut pitch", "pitch"
        ),
        _family_length("strip_feed", "Strip feed", "Clearance for the leads.", "feed clearance", "lead in"),
        _family_length("strip_tail", "Strip tail", "Clearance at the far end.", "tail clearance"),
        _LENGTH_UNIT,
    ),
)

STOCK = SheetPlan(
    kind=SheetKind.STOCK,
    needs=("family", "length"),
    tabs=("bars", "stock lengths", "stock list", "bar list", "price list", "prices"),
    columns=(
        _FAMILY,
        _FINISH,
        _PART,
        Column(
            field="length",
            heading="Length",
            accepts=("bar length", "stock length", "nominal length", "bar", "len"),
            weak=_LENGTH.weak,
            length=True,
            width=14,
        ),
        _LENGTH_UNIT,
        Column(
            field="price",
            heading="Price",
            accepts=("price each", "price per bar", "unit price", "cost", "bar price", "cost each"),
            hint="Of one bar, decimal point, no currency sign.",
        ),
        Column(
            field="count",
            heading="Count",
            accepts=("on hand", "in stock", "available", "bars", "bars on hand", *_QUANTITY.accepts),
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
        _FAMILY,
        _FINISH,
        _PART,
        Column(
            field="length",
            heading="Length",
            accepts=("measured length", "offcut length", *_LENGTH_NAMES),
            weak=_LENGTH.weak,
            length=True,
            width=14,
            hint="Measured on the rack, not calculated.",
        ),
        _LENGTH_UNIT,
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
        _LOT,
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

PLANS = (RUNS, PIECES, FAMILIES, STOCK, OFFCUTS, SAW)
CANONICAL: dict[str, tuple[str, ...]] = {
    plan.kind.value: tuple(column.heading for column in plan.columns) for plan in PLANS
}

_UNIT_WORDS = frozenset(
    (
        *("mm", "cm", "m", "in", "inch", "inches", "ins", "ft", "feet", "foot"),
        *("millimetre", "millimetres", "millimeter", "millimeters", "metre", "metres", "meter", "meters"),
        *("centimetre", "centimetres", "centimeter", "centimeters"),
    )
)
_FILLERS = frozenset(["the", "a", "of", "per", "reqd", "required", "req", "total", "each"])
_BRACKETS = re.compile(r"[(\[{][^)\]}]*[)\]}]")


def plain_words(text: str) -> str:
    """Give a heading in lower case with single spaces and no punctuation: ``"Qty. (No)"`` -> ``qty no``."""
    folded = unicodedata.normalize("NFKC", text).casefold()
    return " ".join(re.sub(r"[^\w]+|_", " ", folded).split())


def _spellings(heading: str) -> list[str]:
    """Give the wordings to try, the whole first, then without brackets, units and fillers."""
    outside = plain_words(_BRACKETS.sub(" ", heading))
    tries = [plain_words(heading), outside]
    for text in (plain_words(heading), outside):
        words = text.split()
        while words and words[-1] in _UNIT_WORDS:
            words.pop()
        tries += [" ".join(words), " ".join(word for word in words if word not in _FILLERS)]
    return [text for text in dict.fromkeys(tries) if text]


def match_heading(plan: SheetPlan, heading: str) -> tuple[Column, bool] | None:
    """
    Find the column a heading means in one kind of sheet.

    Returns
    -------
    tuple or None
        The column and whether the match is firm; None when the heading is not ours.
    """
    for spelling in _spellings(heading):
        for column in plan.columns:
            if spelling == plain_words(column.heading) or spelling in column.accepts:
                return column, True
        for column in plan.columns:
            if spelling in column.weak:
                return column, False
    parts = [part for part in re.split(r"[/,&]| or ", heading) if plain_words(part)]
    if len(parts) > 1:
        met = [match_heading(plan, part) for part in parts]
        first = met[0]
        if first is not None and all(found and found[0] is first[0] for found in met):
            return first[0], any(found and found[1] for found in met)
    return None


def plan_for_tab(name: str) -> SheetPlan | None:
    """Find the kind of sheet a tab's name means; None when the name does not say."""
    plain = plain_words(name)
    return next((plan for plan in PLANS if plain == plan.kind.value.lower() or plain in plan.tabs), None)
