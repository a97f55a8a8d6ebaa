"""The catalogue sheets: families, stock and offcuts."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from fractions import Fraction

from nesting.domain.material import CapStyle, CoverMode, Family, LotRule, Part, SplitRule
from nesting.domain.stock import EndState, Offcut, StockLine
from nesting.sheets.findings import Findings
from nesting.sheets.read_catalogue_row import CatalogueRow, catalogue_rows
from nesting.sheets.read_header import Table
from nesting.sheets.read_needs import Places
from nesting.sheets.read_pieces import PARTS
from nesting.sheets.read_plausible import check_free_bar
from nesting.sheets.read_runs import SPLITS
from nesting.sheets.read_terms import terms_of
from nesting.sheets.read_values import (
    quantity_of,
)
from nesting.units import Length, Unit

_CAPS = {
    **dict.fromkeys(("nose", "nose cap", "nose caps", "nosed"), CapStyle.NOSE),
    **dict.fromkeys(("flush", "flush cap", "flush caps", "flat", "plate"), CapStyle.FLUSH),
    **dict.fromkeys(("inner", "inner cap", "inner caps", "inside", "plug"), CapStyle.INNER),
}
_COVERS = {
    **dict.fromkeys(("flush", "flush together", "together", "flush cut together"), CoverMode.FLUSH),
    **dict.fromkeys(("offset", "offset together"), CoverMode.OFFSET),
    **dict.fromkeys(("separate", "separately", "on its own"), CoverMode.SEPARATE),
    **dict.fromkeys(("none", "no", "no cover", "without"), CoverMode.NONE),
}
_LOTS = {
    **dict.fromkeys(("any", "none", "no"), LotRule.ANY),
    **dict.fromkeys(("room", "one lot per room", "per room"), LotRule.ROOM),
    **dict.fromkeys(("job", "one lot per job", "per job"), LotRule.JOB),
}
_STATES = {
    **dict.fromkeys(("clean", "cut", "sawn", "saw face", "good"), EndState.CLEAN),
    **dict.fromkeys(("raw", "mill", "uncut", "rough", "factory"), EndState.RAW),
}
_MAYBE_LENGTHS = ("strip_longest", "strip_longest_both", "strip_reel", "strip_solder")
_NUMBERS = (
    *("weight", "strip_watts", "strip_volts"),
    *("channel_expansion", "cover_expansion", "heat_above", "heat_below"),
)
_ANSWERS = ("symmetric", "handed_caps", "cover_coil")


def read_families(table: Table, findings: Findings, default_unit: Unit | None) -> list[Family]:
    """Give the families of a catalogue sheet; each name once."""
    families: list[Family] = []
    for row in catalogue_rows(table, findings, default_unit):
        name = row.text("name")
        where = table.sheet.where(row.cell("name"))
        if not name:
            findings.error("name-missing", where, row.row.raw, "A family needs a name.")
            continue
        again = any(family.name.casefold() == name.casefold() for family in families)
        if again:
            findings.error("duplicate-family", where, name, "The family stands in the sheet twice; keep one.")
        before = len(findings)
        values = {
            "cap_style": row.choice("cap_style", _CAPS, CapStyle.FLUSH, "cap style"),
            "cover_mode": row.choice("cover_mode", _COVERS, CoverMode.NONE, "cover mode"),
            "lot_rule": row.choice("lot_rule", _LOTS, LotRule.ANY, "lot rule"),
            "split_rule": row.choice("split_rule", SPLITS, SplitRule.EQUAL, "split"),
        }
        lengths = {
            field: row.allowance(field)
            for field in (
                *("cap_thickness", "nose", "cover_play", "clearance", "joint_gap", "shortest_section"),
                *("strip_feed", "strip_tail", "strip_reach", "strip_width", "wire_length", "width", "height"),
                *("cover_stagger", "clip_edge", "clip_spacing", "clip_single_below"),
            )
        }
        figures = {
            "strip_pitch": row.pitch("strip_pitch"),
            **{field: row.maybe_length(field) for field in _MAYBE_LENGTHS},
            **{field: row.number(field) for field in _NUMBERS},
            **{field: answer for field in _ANSWERS if (answer := row.yes_no(field)) is not None},
            "adhesive_rows": row.whole("adhesive_rows"),
            "strip_name": row.text("strip_name"),
            "wire": row.text("wire"),
        }
        if again:
            continue
        if any(finding.severity.refuses for finding in findings.since(before)):
            # The cells are named already; the name alone keeps its runs from being reported too.
            families.append(Family(name=name))
            continue
        family = row.built(lambda: _family(name, values, lengths, figures))  # noqa: B023 - called at once
        families.append(family or Family(name=name))
    return families


def _family(
    name: str,
    choices: Mapping[str, StrEnum],
    lengths: Mapping[str, Length],
    figures: Mapping[str, Fraction | int | str | None],
) -> Family:
    return Family(name=name, **choices, **lengths, **figures)  # type: ignore[arg-type]


def read_stock(
    table: Table,
    findings: Findings,
    default_unit: Unit | None,
    doubtful: set[str] | None = None,
    places: Places | None = None,
) -> list[StockLine]:
    """
    Give the stock lines of a catalogue sheet; without a Family column they name no family.

    Parameters
    ----------
    doubtful
        Takes the families of rows that are refused, empty where the row names none: what they have in
        stock is not known, so nothing more is to be said of it.
    places
        Takes the cell of each line's price, filled or not.
    """
    lines: list[StockLine] = []
    refused = set() if doubtful is None else doubtful
    at = {} if places is None else places
    for row in catalogue_rows(table, findings, default_unit):
        family, finish = row.text("family"), row.text("finish")
        where = table.sheet.where(row.cell("length"))
        unnamed = _unnamed(row, family, "A bar")
        part = row.choice("part", PARTS, Part.CHANNEL, "part")
        length, price, count = row.length("length"), row.money("price"), _count(row)
        priced = row.cell("price")
        check_free_bar(price, table.sheet.where(priced), priced.raw, findings)
        if "price" in table.columns:
            at[where, "price"] = table.sheet.where(priced)
        if unnamed or length is None:
            refused.add(family)
            continue
        terms = terms_of(row.cell, table.sheet.where, findings)
        terms |= {"family": family, "finish": finish, "part": part, "where": where}
        terms |= {"length": length, "price": price, "count": count}
        line = row.built(lambda: StockLine(**terms))  # noqa: B023 - called at once
        if line is None:
            refused.add(family)
            continue
        twin = next((other for other in lines if _same_bar(other, line)), None)
        if twin is not None:
            findings.ask(
                "duplicate-stock",
                where,
                row.row.raw,
                f"The same bar stands at {twin.where} already; keep one line.",
            )
        lines.append(line)
    return lines


def _unnamed(row: CatalogueRow, family: str, what: str) -> bool:
    """Tell whether a row leaves its sheet's Family column blank; a finding at the cell says so."""
    unnamed = not family and "family" in row.table.columns
    if unnamed:
        where = row.table.sheet.where(row.cell("family"))
        row.findings.error("family-missing", where, row.row.raw, f"{what} needs a family.")
    return unnamed


def _same_bar(one: StockLine, other: StockLine) -> bool:
    """Tell whether two lines offer the same bar; some on hand and more to be bought are two offers."""
    if one.count != other.count or (one.count is not None and one.price != other.price):
        return False
    return (one.family, one.finish, one.part, one.length) == (
        other.family,
        other.finish,
        other.part,
        other.length,
    )


def _count(row: CatalogueRow) -> int | None:
    cell = row.cell("count")
    if not cell.filled or cell.text.lower() in ("unlimited", "any", "-", "∞"):
        return None
    if cell.text in ("0", "none"):
        return 0
    return quantity_of(cell, row.table.sheet.where(cell), row.findings)


def read_offcuts(table: Table, findings: Findings, default_unit: Unit | None) -> list[Offcut]:
    """Give the offcuts of a rack sheet; each tag once. Without a Family column they name no family."""
    offcuts: dict[str, Offcut] = {}
    for row in catalogue_rows(table, findings, default_unit):
        tag, family = row.text("tag"), row.text("family")
        at = table.sheet.where(row.cell("tag"))
        if not tag:
            findings.error("tag-missing", at, row.row.raw, "An offcut needs a tag, so that it can be found.")
        elif tag in offcuts:
            findings.error(
                "duplicate-tag", at, tag, f"The tag stands at {offcuts[tag].where} already; tags are unique."
            )
        unnamed = _unnamed(row, family, "An offcut")
        length, value = row.length("length"), row.money("value")
        part = row.choice("part", PARTS, Part.CHANNEL, "part")
        left = row.choice("left", _STATES, EndState.CLEAN, "end state")
        right = row.choice("right", _STATES, EndState.RAW, "end state")
        if not tag or unnamed or length is None or tag in offcuts:
            continue
        offcuts[tag] = Offcut(
            tag=tag,
            family=family,
            finish=row.text("finish"),
            part=part,
            length=length,
            left=left,
            right=right,
            lot=row.text("lot"),
            place=row.text("place"),
            value=value,
            born=row.day("born"),
            where=at,
        )
    return list(offcuts.values())
