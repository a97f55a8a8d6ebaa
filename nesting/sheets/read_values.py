"""One cell to one value, or to a finding that says what would be accepted."""

from __future__ import annotations

import calendar
import datetime
import re
from collections.abc import Mapping
from enum import StrEnum
from fractions import Fraction
from typing import TypeVar

from nesting.errors import LengthNotUnderstood, MoneyNotUnderstood, Where
from nesting.money import Money
from nesting.sheets.cells import Cell, CellKind
from nesting.sheets.columns import plain_words
from nesting.sheets.findings import Findings
from nesting.sheets.read_price import PriceAmbiguous, read_price
from nesting.units import Length, Reading, Unit, read_length, read_unit

Choice = TypeVar("Choice", bound=StrEnum)

MOST_OF_ONE_LINE = 10_000
_ASKS = frozenset(
    (
        *("ambiguous-separator", "ambiguous-hyphen", "decimal-inch", "ditto", "no-unit", "denominator"),
        *("numerator", "inches-over-12", "finer-than-64th", "fraction-not-inch"),
    )
)
_HOLDS = re.compile(
    r"\b(vif|tbc|tbd|tba|hold|verify|site|confirm\w*|see|dwg|drawing|check|approx\w*|circa|max|min)\b|\?|±|\+/-",
    re.IGNORECASE,
)
_COUNT_AND_LENGTH = re.compile(
    r"(?P<count>[0-9]{1,3}) *(?P<sign>@|[x×*]|off\b|pcs?\b\.?|no\b\.?|nr\b\.?) *(?:@ *)?(?P<length>[0-9.].*)",
    re.IGNORECASE,
)
_QUANTITY = re.compile(
    r"[x×]? *(?P<count>[0-9]+)(?:\.0+)? *"
    r"(?:[x×]|pcs?\.?|pieces?|no\.?|nos\.?|nr\.?|off|ea\.?|each|units?|sets?|runs?)?",
    re.IGNORECASE,
)
_MONTHS = {month.lower(): number for number, month in enumerate(calendar.month_abbr) if month}
_DAY_MONTH = re.compile(r"(?P<day>[0-9]{1,2})[-/. ](?P<month>[a-z]{3})[a-z]*(?:[-/. ](?P<year>[0-9]{2,4}))?")
_MONTH_DAY = re.compile(r"(?P<month>[a-z]{3})[a-z]*[-/. ](?P<day>[0-9]{1,2})(?:,? (?P<year>[0-9]{4}))?")
_ISO = re.compile(r"(?P<year>[0-9]{4})-(?P<month>[0-9]{1,2})-(?P<day>[0-9]{1,2})(?:[t ].*)?")
_SLASHED = re.compile(r"(?P<day>[0-9]{1,2})([-/.])(?P<month>[0-9]{1,2})\2(?P<year>[0-9]{2}|[0-9]{4})")
_NUMBER = re.compile(
    r"(?P<number>[0-9]{1,9}(?:\.[0-9]{1,12})?(?:[eE]-?[0-9]{1,2})?) *"
    r"(?:w|w/m|watts?|v|vdc|v dc|volts?|k|kelvin|1/k|/k|per k|rows?|beads?)?",
    re.IGNORECASE,
)
_DECIMAL_COMMA = re.compile(r"(?<![0-9.,])(?P<whole>[0-9]+),(?P<rest>[0-9]+)(?![0-9.,])")
_YES_NO = {
    **dict.fromkeys(("yes", "y", "true", "x", "1", "✓"), True),
    **dict.fromkeys(("no", "n", "false", "0", "-"), False),
}
_DENOMINATORS = (2, 4, 8, 16, 32, 64)


def broken_cell(cell: Cell, where: Where, findings: Findings) -> bool:
    """Tell, with a finding, that a cell holds an error, a formula never computed or a truth value."""
    if cell.kind is CellKind.ERROR:
        findings.error("error-cell", where, cell.raw, "The formula in this cell failed; type the value.")
    elif cell.kind is CellKind.UNCALCULATED:
        findings.error(
            "formula-without-value",
            where,
            cell.raw,
            "The formula was never computed; save the workbook in a spreadsheet program, or type the value.",
        )
    elif cell.kind is CellKind.BOOLEAN:
        findings.error("truth-value", where, cell.raw, "The cell holds TRUE or FALSE; type the value.")
    else:
        return False
    return True


def text_of(cell: Cell, where: Where, findings: Findings) -> str:
    """Give a name or text; a date in it is asked about, since ``3-05`` may have been typed."""
    if broken_cell(cell, where, findings):
        return ""
    if cell.kind is CellKind.DATE:
        findings.ask(
            "date-in-name",
            where,
            cell.raw,
            "The spreadsheet made a date of what was typed here; format the cell as text and type it again.",
        )
    return cell.text


def length_of(
    cell: Cell, unit: Unit | None, where: Where, findings: Findings, *, may_be_zero: bool = False
) -> Reading | None:
    """Give the length of a filled cell, exactly; None with a finding when it is none."""
    if broken_cell(cell, where, findings):
        return None
    day = cell.day if cell.kind is CellKind.DATE else _date_in(cell.text)
    if cell.kind is CellKind.DATE or day is not None:
        findings.error("date-in-length", where, cell.raw, _date_message(day))
        return None
    if may_be_zero and re.fullmatch(r"0+(?:[.,]0+)?", cell.text):
        return Reading(Length(0), unit or Unit.MM, cell.text)
    try:
        return read_length(cell.raw, unit, may_be_zero=may_be_zero)
    except LengthNotUnderstood as why:
        if why.code == "not-a-length" and _HOLDS.search(cell.text):
            findings.ask(
                "note-in-length",
                where,
                cell.raw,
                "The cell holds a remark, not a settled size; type the length alone, the remark into Note.",
            )
            return None
        could = f" It could be {' or '.join(why.readings)}." if why.readings else ""
        note = findings.ask if why.code in _ASKS else findings.error
        note(why.code, where, cell.raw, f"{why.expected[:1].upper()}{why.expected[1:]}.{could}")
        return None


def count_and_length(text: str) -> tuple[int, str] | None:
    """Split ``2 @ 36 1/4`` or ``2x1200`` into count and length; None when it is one thing only."""
    match = _COUNT_AND_LENGTH.fullmatch(text)
    return (int(match["count"]), match["length"]) if match else None


def quantity_of(cell: Cell, where: Where, findings: Findings) -> int | None:
    """Give a quantity of at least 1 from ``2``, ``2 pcs`` or ``x2``; None with a finding otherwise."""
    if broken_cell(cell, where, findings):
        return None
    if cell.kind is CellKind.DATE:
        findings.error(
            "quantity-not-understood", where, cell.raw, "The cell holds a date; type a whole number."
        )
        return None
    match = _QUANTITY.fullmatch(cell.text)
    if match:
        count = int(match["count"])
        if 1 <= count <= MOST_OF_ONE_LINE:
            return count
        findings.error(
            "quantity-out-of-range", where, cell.raw, f"A line may ask for 1 to {MOST_OF_ONE_LINE} pieces."
        )
        return None
    if re.fullmatch(r"-[0-9.]+", cell.text):
        findings.error("quantity-out-of-range", where, cell.raw, "A quantity below 1 cannot be made.")
        return None
    findings.ask(
        "quantity-not-understood", where, cell.raw, "Type a whole number such as 2; 2 pcs and x2 are read."
    )
    return None


def choice_of(
    cell: Cell, names: Mapping[str, Choice], what: str, where: Where, findings: Findings
) -> Choice | None:
    """Give the meaning of a word by any of its names; None with a finding listing what is accepted."""
    text = text_of(cell, where, findings)
    found = names.get(plain_words(text))
    if found is None and text:
        accepted = ", ".join(dict.fromkeys(choice.value for choice in names.values()))
        findings.error(
            f"{what.replace(' ', '-')}-not-understood", where, cell.raw, f"Accepted as {what}: {accepted}."
        )
    return found


def money_of(cell: Cell, where: Where, findings: Findings) -> Money | None:
    """Give an amount; None with a finding when the cell is none."""
    if broken_cell(cell, where, findings):
        return None
    try:
        return read_price(cell.text).amount
    except PriceAmbiguous as why:
        findings.ask("amount-not-clear", where, cell.raw, f"It could be {why.expected}.")
    except MoneyNotUnderstood as why:
        findings.error("amount-not-understood", where, cell.raw, f"Accepted is {why.expected}.")
    return None


def pitch_of(cell: Cell, unit: Unit | None, where: Where, findings: Findings) -> Fraction | None:
    """Give a strip pitch in nanometres, as a rational: ``50 mm``, or ``5000/300 mm`` for 300 marks in 5 m."""
    match = re.fullmatch(r"([0-9]+(?:\.[0-9]+)?) *(mm|cm|m)? */ *([0-9]+) *(mm|cm|m|marks|cuts)?", cell.text)
    if match and cell.kind is CellKind.TEXT and int(match[3]):
        said = next((word for word in (match[2], match[4]) if word in ("mm", "cm", "m")), None)
        metric = Unit(said) if said else unit
        if metric is not None and metric.metric:
            return Fraction(match[1]) * metric.nanometres / int(match[3])
    reading = length_of(cell, unit, where, findings)
    return Fraction(reading.length) if reading else None


def number_of(cell: Cell, what: str, where: Where, findings: Findings) -> Fraction | None:
    """Give a plain number, exactly: ``9.6``, ``9,6 W/m``, ``65e-6``; None with a finding when it is none."""
    if broken_cell(cell, where, findings):
        return None
    match = _NUMBER.fullmatch(decimal_point(cell.text)) if cell.kind is not CellKind.DATE else None
    if match is None:
        said = f"A number such as 9.6 or 9,6 is expected for the {what}."
        if comma := _DECIMAL_COMMA.search(cell.text):
            said += f" {comma[0]} may be {comma['whole']}{comma['rest']} or {comma['whole']}.{comma['rest']}."
        findings.error("number-not-understood", where, cell.raw, said)
        return None
    return Fraction(match["number"])


def decimal_point(text: str) -> str:
    """
    Give a text with a decimal point where a number in it has a decimal comma: ``9,6 W/m``, ``0,125``.

    A comma before exactly three digits may part thousands, and stays.
    """

    def pointed(comma: re.Match[str]) -> str:
        doubtful = len(comma["rest"]) == 3 and comma["whole"] != "0"
        return comma[0] if doubtful else f"{comma['whole']}.{comma['rest']}"

    return _DECIMAL_COMMA.sub(pointed, text)


def yes_no_of(cell: Cell, what: str, where: Where, findings: Findings) -> bool | None:
    """Give a yes or no, ticks and TRUE included; None with a finding when it is neither."""
    if cell.kind is not CellKind.BOOLEAN and broken_cell(cell, where, findings):
        return None
    answer = _YES_NO.get(plain_words(cell.text) or cell.text)
    if answer is None:
        findings.error(f"{what.replace(' ', '-')}-not-understood", where, cell.raw, "Type yes or no.")
    return answer


def unit_of(text: str) -> Unit | None:
    """Give the unit a cell names on its own (``mm``, ``inches``); None when it says anything else."""
    return read_unit(text) if len(plain_words(text).split()) <= 1 and len(text) <= 12 else None


def _date_in(text: str) -> datetime.date | None:
    """Give the date a text spells; None when it spells none, or could be feet and inches."""
    plain = text.lower()
    for pattern in (_DAY_MONTH, _MONTH_DAY, _ISO, _SLASHED):
        if match := pattern.fullmatch(plain):
            month = _MONTHS.get(match["month"]) if match["month"].isalpha() else int(match["month"])
            year = int(match["year"] or 2000)
            try:
                return datetime.date(year if year > 99 else 2000 + year, month or 0, int(match["day"]))
            except ValueError:
                return None
    return None


def _date_message(day: datetime.date | None) -> str:
    advice = "Format the cell as text, then type the length, such as 0 3/8 in or 10 3/8 in."
    if day is None:
        return f"A time or date stands where a length belongs. {advice}"
    likely = [
        f"{top}/{bottom}"
        for top, bottom in ((day.month, day.day), (day.day, day.month))
        if bottom in _DENOMINATORS and top < bottom
    ]
    if day.year % 100 in _DENOMINATORS:
        short = day.year % 100
        likely += [
            f"{whole}-{top}/{short}"
            for whole, top in ((day.month, day.day), (day.day, day.month))
            if top < short and day.day != day.month
        ]
    said = day.strftime("%d %B").lstrip("0")
    guess = f", perhaps made from {' or '.join(likely)}" if likely else ""
    typed = f"{day.month}/{day.day} or {day.day}/{day.month}"
    return f"The date {said} stands where a length belongs, typed as {typed}{guess}. {advice}"
