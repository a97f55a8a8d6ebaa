"""The catalogue sheets: families, stock and offcuts."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from typing import TypeVar

from nesting.domain.material import CapStyle, CoverMode, Family, LotRule, Part, SplitRule
from nesting.domain.stock import EndState, Offcut, StockLine
from nesting.errors import MoneyNotUnderstood, ProblemError
from nesting.money import Money
from nesting.sheets.cells import Cell, Row
from nesting.sheets.columns import is_per_length, match_heading
from nesting.sheets.findings import Findings
from nesting.sheets.read_goals import due_of
from nesting.sheets.read_header import Table, same_heading
from nesting.sheets.read_pieces import PARTS
from nesting.sheets.read_plausible import check_free_bar
from nesting.sheets.read_price import PriceAmbiguous, read_price
from nesting.sheets.read_runs import SPLITS
from nesting.sheets.read_terms import terms_of
from nesting.sheets.read_values import (
    Choice,
    choice_of,
    length_of,
    money_of,
    number_of,
    pitch_of,
    quantity_of,
    text_of,
    unit_of,
    yes_no_of,
)
from nesting.units import NO_LENGTH, Length, Unit

Value = TypeVar("Value")

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
_NONE = ("none", "no", "-")
_MAYBE_LENGTHS = ("strip_longest", "strip_longest_both", "strip_reel", "strip_solder")
_NUMBERS = (
    *("weight", "strip_watts", "strip_volts"),
    *("channel_expansion", "cover_expansion", "heat_above", "heat_below"),
)
_ANSWERS = ("symmetric", "handed_caps", "cover_coil")


@dataclass(frozen=True, slots=True)
class _RowReader:
    """Reads the cells of one row by field; whatever fails leaves a finding."""

    table: Table
    row: Row
    findings: Findings
    default_unit: Unit | None

    def cell(self, name: str) -> Cell:
        return self.row.cell(self.table.columns.get(name, 0))

    def text(self, name: str) -> str:
        cell = self.cell(name)
        return text_of(cell, self.table.sheet.where(cell), self.findings)

    def unit(self, name: str) -> Unit | None:
        return unit_of(self.cell("length_unit").text) or self.table.unit(name) or self.default_unit

    def length(self, name: str) -> Length | None:
        """Give a length that a row cannot do without."""
        cell = self.cell(name)
        where = self.table.sheet.where(cell)
        if not cell.filled:
            self.findings.error(
                "length-missing",
                self.table.sheet.where(self._first),
                self.row.raw,
                "Type the length with its unit.",
            )
            return None
        reading = length_of(cell, self.unit(name), where, self.findings)
        return reading.length if reading else None

    def allowance(self, name: str) -> Length:
        """Give an allowance; blank counts as none."""
        cell = self.cell(name)
        where = self.table.sheet.where(cell)
        if not cell.filled:
            return NO_LENGTH
        reading = length_of(cell, self.unit(name), where, self.findings, may_be_zero=True)
        return reading.length if reading else NO_LENGTH

    def maybe_length(self, name: str) -> Length | None:
        """Give a length from a data sheet; blank means that it is not known."""
        cell = self.cell(name)
        if not cell.filled or cell.text.lower() in _NONE:
            return None
        reading = length_of(cell, self.unit(name), self.table.sheet.where(cell), self.findings)
        return reading.length if reading else None

    def number(self, name: str) -> Fraction | None:
        """Give a plain number; blank means that it is not known."""
        cell = self.cell(name)
        if not cell.filled or cell.text.lower() in _NONE:
            return None
        return number_of(cell, self.table.heading(name).lower(), self.table.sheet.where(cell), self.findings)

    def whole(self, name: str) -> int:
        """Give a count; blank counts as none."""
        found = self.number(name)
        if found is not None and found.denominator != 1:
            cell = self.cell(name)
            self.findings.error(
                "not-a-whole-number", self.table.sheet.where(cell), cell.raw, "A whole number is expected."
            )
        return int(found or 0)

    def yes_no(self, name: str) -> bool | None:
        """Give an answer; blank means that the family's default holds."""
        cell = self.cell(name)
        if not cell.filled:
            return None
        return yes_no_of(cell, self.table.heading(name).lower(), self.table.sheet.where(cell), self.findings)

    def pitch(self, name: str) -> Fraction | None:
        cell = self.cell(name)
        if not cell.filled or cell.text.lower() in _NONE:
            return None
        return pitch_of(cell, self.unit(name), self.table.sheet.where(cell), self.findings)

    def choice(self, name: str, names: Mapping[str, Choice], default: Choice, what: str) -> Choice:
        cell = self.cell(name)
        if not cell.filled:
            return default
        return choice_of(cell, names, what, self.table.sheet.where(cell), self.findings) or default

    def money(self, name: str) -> Money | None:
        cell = self.cell(name)
        return money_of(cell, self.table.sheet.where(cell), self.findings) if cell.filled else None

    def day(self, name: str) -> str:
        """Give a day, ISO 8601; empty when blank or not understood."""
        cell = self.cell(name)
        return due_of(cell, self.table.sheet.where(cell), self.findings)

    def built(self, build: Callable[[], Value]) -> Value | None:
        """Build a value; what cannot exist becomes a finding at the row's first cell."""
        try:
            return build()
        except ProblemError as why:
            self.findings.error("cannot-exist", self.table.sheet.where(self._first), self.row.raw, str(why))
            return None

    @property
    def _first(self) -> Cell:
        return self.row.cells[min(self.row.cells)]


def _tell_unread(table: Table, findings: Findings) -> None:
    """Tell of the columns that are not ours: a figure nobody reads could be a price."""
    accepted = ", ".join(column.heading for column in table.plan.columns)
    for number, heading in table.extras:
        texts = [cell.text for row in table.body if (cell := row.cell(number)).filled]
        where = table.sheet.where(table.header.cell(number))
        found = match_heading(table.plan, heading)
        if not texts or (found and found[1]):  # two headings that mean the same are asked about already
            continue
        if "price" in (column.field for column in table.plan.columns) and is_per_length(heading):
            findings.ask(
                "price-per-length", where, heading, "Prices are read per bar; give the price of each bar."
            )
        elif all(_is_figure(text) for text in texts):
            findings.warning(
                "column-not-read",
                where,
                heading,
                f"The heading is not known, so the figures below it are not read. Headings read: {accepted}.",
            )
        else:
            findings.note("column-not-read", where, heading, "The heading is not known; not read.")


def _is_figure(text: str) -> bool:
    try:
        read_price(text)
    except PriceAmbiguous:
        return True
    except MoneyNotUnderstood:
        return False
    return True


def _rows(table: Table, findings: Findings, default_unit: Unit | None) -> Iterator[_RowReader]:
    _tell_unread(table, findings)
    for row in table.body:
        if same_heading(table.header, row):
            continue
        reader = _RowReader(table, row, findings, default_unit)
        first = row.cells[min(row.cells)]
        if row.struck:
            findings.warning(
                "struck-row", table.sheet.where(first), row.raw, "The row is struck through and is left out."
            )
        elif len(row.cells) == 1 and len(table.columns) > 1 and table.plan.kind != "Families":
            findings.note(
                "text-row", table.sheet.where(first), row.raw, "Read as a heading or remark, not as a line."
            )
        else:
            yield reader


def read_families(table: Table, findings: Findings, default_unit: Unit | None) -> list[Family]:
    """Give the families of a catalogue sheet; each name once."""
    families: list[Family] = []
    for row in _rows(table, findings, default_unit):
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
    table: Table, findings: Findings, default_unit: Unit | None, doubtful: set[str] | None = None
) -> list[StockLine]:
    """
    Give the stock lines of a catalogue sheet.

    Parameters
    ----------
    doubtful
        Takes the families of rows that are refused, empty where the row names none: what they have in
        stock is not known, so nothing more is to be said of it.
    """
    lines: list[StockLine] = []
    refused = set() if doubtful is None else doubtful
    for row in _rows(table, findings, default_unit):
        family, finish = row.text("family"), row.text("finish")
        where = table.sheet.where(row.cell("length"))
        if not family:
            findings.error(
                "family-missing", table.sheet.where(row.cell("family")), row.row.raw, "A bar needs a family."
            )
        part = row.choice("part", PARTS, Part.CHANNEL, "part")
        length, price, count = row.length("length"), row.money("price"), _count(row)
        priced = row.cell("price")
        check_free_bar(price, table.sheet.where(priced), priced.raw, findings)
        if not family or length is None:
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


def _count(row: _RowReader) -> int | None:
    cell = row.cell("count")
    if not cell.filled or cell.text.lower() in ("unlimited", "any", "-", "∞"):
        return None
    if cell.text in ("0", "none"):
        return 0
    return quantity_of(cell, row.table.sheet.where(cell), row.findings)


def read_offcuts(table: Table, findings: Findings, default_unit: Unit | None) -> list[Offcut]:
    """Give the offcuts of a rack sheet; each tag once."""
    offcuts: dict[str, Offcut] = {}
    for row in _rows(table, findings, default_unit):
        tag, family = row.text("tag"), row.text("family")
        at = table.sheet.where(row.cell("tag"))
        if not tag:
            findings.error("tag-missing", at, row.row.raw, "An offcut needs a tag, so that it can be found.")
        elif tag in offcuts:
            findings.error(
                "duplicate-tag", at, tag, f"The tag stands at {offcuts[tag].where} already; tags are unique."
            )
        if not family:
            findings.error(
                "family-missing",
                table.sheet.where(row.cell("family")),
                row.row.raw,
                "An offcut needs a family.",
            )
        length, value = row.length("length"), row.money("value")
        part = row.choice("part", PARTS, Part.CHANNEL, "part")
        left = row.choice("left", _STATES, EndState.CLEAN, "end state")
        right = row.choice("right", _STATES, EndState.RAW, "end state")
        if not tag or not family or length is None or tag in offcuts:
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
