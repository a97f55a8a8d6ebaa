"""
Lengths read from the texts people type, exactly or not at all.

What could mean two things is refused with its readings, so that a person decides. The codes:
``empty``, ``ditto``, ``date``, ``quantity-in-length``, ``scientific-notation``, ``negative``,
``zero``, ``no-unit``, ``ambiguous-separator``, ``ambiguous-hyphen``, ``decimal-inch``,
``fraction-not-inch``, ``denominator``, ``numerator``, ``inches-over-12``, ``finer-than-64th``,
``finer-than-nanometre``, ``out-of-range`` and ``not-a-length``.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from nesting.errors import LengthNotUnderstood
from nesting.units.length import Length, Unit
from nesting.units.printing import length_text
from nesting.units.spelling import UNIT_NAMES, plain_spelling

_LONGEST_TEXT = 60
_LONGEST = 10**13  # 10 km: far beyond any bar, and well inside 64-bit sums
_IN_REACH = 10**11  # 100 m: a run that thousands behind a point could mean
_FINEST_PER_INCH = 64
_EXAMPLES = "a length such as 1250.5 mm, 2.4 m, 36 1/4 in or 3' 4-1/2\" is accepted"

_NAMES = "|".join(sorted(map(re.escape, UNIT_NAMES), key=len, reverse=True))
_AMOUNT = r"\.?[0-9](?:[0-9., /-]*[0-9])?"
_ONE_UNIT = re.compile(rf"(?P<amount>{_AMOUNT}) *(?:(?P<unit>{_NAMES})\.?)?")
_FEET_AND_INCHES = re.compile(
    rf"(?P<feet>[0-9]+) *(?:'|(?:ft|foot|feet)\.?) *-? *(?P<inches>{_AMOUNT}) *(?:\"|(?:inches|inch|in)\.?)?"
)
_FRACTION = re.compile(r"(?:(?P<whole>[0-9]+)(?P<gap>[ -]+))?(?P<over>[0-9]+) */ *(?P<under>[0-9]+)")
_HYPHENED = re.compile(
    r"(?P<first>[0-9]+) *- *(?P<second>[0-9]+)(?P<fraction>[ -]+[0-9]+ */ *[0-9]+)?(?P<unit>.*)"
)
_GROUPS = {
    " ": re.compile(r"[1-9][0-9]{0,2}(?: [0-9]{3})+"),
    ",": re.compile(r"[1-9][0-9]{0,2}(?:,[0-9]{3})+"),
    ".": re.compile(r"[1-9][0-9]{0,2}(?:\.[0-9]{3})+"),
}
_MONTHS = "jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec"
_DATE = re.compile(
    r"[0-9]{4}([-/.])[0-9]{1,2}\1[0-9]{1,2}(?:[ t].*)?"
    r"|[0-9]{1,2}([-/.])[0-9]{1,2}\2(?:[0-9]{2}|[0-9]{4})"
    rf"|(?:[0-9]{{1,2}}[-/. ])?(?:{_MONTHS})[a-z]*[-/. ][0-9]{{1,4}}|[0-9]{{1,2}}[-/. ](?:{_MONTHS})[a-z]*.*"
)
_DITTO = re.compile('["〃,]+|-+ *" *-+|do\\.?|ditto|same|as above')
_QUANTITY = re.compile(r"[0-9]+ *(?:@|x|×|off|pcs?\.?|no\.?) *[0-9.].*")
_SCIENTIFIC = re.compile(rf"-?[0-9.,]+e[+-]?[0-9]+ *(?:{_NAMES})?\.?")


@dataclass(frozen=True, slots=True)
class Reading:
    """
    A length as somebody wrote it.

    Parameters
    ----------
    length
        The exact length.
    unit
        Unit it was given in; feet with inches count as feet.
    text
        What was written.
    """

    length: Length
    unit: Unit
    text: str


def read_length(text: str, unit: Unit | None = None, *, may_be_zero: bool = False) -> Reading:
    """
    Read a length in any spelling a run list brings, exactly.

    Parameters
    ----------
    text
        ``1250``, ``1.250,5 mm``, ``2,4 m``, ``36 1/4``, ``10-3/8"``, ``3' 4-1/2"`` and the like.
    unit
        Unit of bare numbers: the heading's, or the list's default; None when neither says one.
    may_be_zero
        Whether zero is a length here, as it is for a clearance or a trim.

    Raises
    ------
    LengthNotUnderstood
        When the text is no length, could be several, is zero or negative, or is finer than 1/64 in
        (inches and feet) or a nanometre (metric). A comma before exactly three digits could
        part thousands as well as decimals and is refused; so is such a point when the last digit is
        0, which neither a number cell nor this library prints, and thousands would be under 100 m.
    """
    return _Reader(text, unit, may_be_zero).read()


@dataclass(frozen=True, slots=True)
class _Reader:
    """One text on its way to a length, so that every refusal can quote it."""

    text: str
    default: Unit | None
    may_be_zero: bool

    def read(self) -> Reading:
        plain = plain_spelling(self.text)
        self._refuse_traps(plain)
        if match := _FEET_AND_INCHES.fullmatch(plain):
            rest = self._inches_after_feet(match["inches"])
            return self._reading(Fraction(int(match["feet"]) * 12) + rest, Unit.INCH, said=Unit.FOOT)
        if not (match := _ONE_UNIT.fullmatch(plain)):
            raise self._refusal("not-a-length", _EXAMPLES)
        unit = UNIT_NAMES[match["unit"]] if match["unit"] else self.default
        if unit is None and self.may_be_zero and re.fullmatch(r"0+(?:[.,]0+)?", match["amount"]):
            return self._reading(Fraction(0), Unit.MM)  # nothing is as much in every unit
        if unit is None:
            raise self._no_unit(match["amount"])
        return self._reading(self._amount(match["amount"], unit), unit)

    def _refuse_traps(self, plain: str) -> None:
        """Refuse what looks like a length, or should be named for what it is."""
        if not plain:
            raise self._refusal("empty", f"the text is empty; {_EXAMPLES}")
        if len(plain) > _LONGEST_TEXT:
            raise self._refusal("not-a-length", _EXAMPLES)
        if _DITTO.fullmatch(plain):
            raise self._refusal("ditto", "a ditto mark is not carried down; repeat the length itself")
        if _SCIENTIFIC.fullmatch(plain):
            raise self._refusal("scientific-notation", "write the length out in plain digits")
        if plain.startswith("-") and any(
            form.fullmatch(plain[1:].strip()) for form in (_ONE_UNIT, _FEET_AND_INCHES)
        ):
            raise self._refusal("negative", "a length must be more than zero")
        if _DATE.fullmatch(plain):
            raise self._refusal(
                "date", "this is a date, perhaps made from a fraction by the spreadsheet; type it as text"
            )
        if _QUANTITY.fullmatch(plain):
            raise self._refusal("quantity-in-length", "put the quantity into its own column")
        if match := _HYPHENED.fullmatch(plain):
            self._refuse_hyphen(match)

    def _refuse_hyphen(self, match: re.Match[str]) -> None:
        """Refuse ``4-6`` and ``3-4-1/2``: feet and inches, a range, or a date."""
        first, second, fraction, rest = match.groups()
        name = rest.strip().rstrip(".")
        if name and name not in UNIT_NAMES:
            return
        part = fraction.strip(" -").replace(" ", "") if fraction else ""
        feet_fit = int(second) < 12 and not (name and UNIT_NAMES[name].metric)
        readings = [f"{first} ft {' '.join(filter(None, (second, part)))} in"] if feet_fit else []
        if not part:
            readings.append(f"{first} to {second}")
        raise self._refusal(
            "ambiguous-hyphen", "a hyphen may join only whole inches and a fraction, as in 10-3/8", *readings
        )

    def _amount(self, amount: str, unit: Unit) -> Fraction:
        """Give the number of units, with the refusals that belong to the unit."""
        if "/" in amount:
            return self._fraction(amount, unit)
        value = self._number(amount, unit)
        if not unit.metric:
            self._refuse_off_tape(value, amount, unit)
        return value

    def _fraction(self, amount: str, unit: Unit) -> Fraction:
        match = _FRACTION.fullmatch(amount)
        if not match:
            raise self._refusal("not-a-length", _EXAMPLES)
        whole, over, under = int(match["whole"] or 0), int(match["over"]), int(match["under"])
        if unit.metric:
            said = f"{match['whole']} {over}/{under}" if match["whole"] else f"{over}/{under}"
            raise self._refusal(
                "fraction-not-inch", "fractions are read in inches or feet only; name the unit", f"{said} in"
            )
        self._refuse_fraction(over, under)
        part = Fraction(over, under)
        if "-" in (match["gap"] or "") and match["gap"] != "-":
            readings = (Fraction(whole) + part, Fraction(whole) - part)
            raise self._refusal(
                "ambiguous-hyphen",
                "a hyphen with a space could be a minus; write 10-3/8 or 10 3/8",
                *(length_text(int(value * unit.nanometres), unit) for value in readings if value > 0),
            )
        return whole + part

    def _refuse_fraction(self, over: int, under: int) -> None:
        power_of_two = under > 1 and under & (under - 1) == 0
        if power_of_two and under > _FINEST_PER_INCH:
            raise self._refusal("finer-than-64th", "inches are read down to 1/64")
        if not power_of_two:
            raise self._refusal("denominator", "the lower number of a fraction is 2, 4, 8, 16, 32 or 64")
        if over >= under:
            raise self._refusal("numerator", "the upper number of a fraction is smaller than the lower one")

    def _number(self, amount: str, unit: Unit) -> Fraction:
        """Read digits with decimal and thousands signs; sets of three digits must be certain."""
        signs = [sign for sign in ".," if sign in amount]
        if " " in amount:
            # In inches "36 125" has more likely lost its fraction bar than been grouped.
            return self._grouped(amount, " ", signs) if unit.metric else self._not_a_number()
        if len(signs) == 2:
            last = max(signs, key=amount.rfind)
            return self._grouped(amount, "." if last == "," else ",", [last])
        (sign,) = signs or ["."]
        if amount.count(sign) > 1:
            return self._grouped(amount, sign, [])
        if _GROUPS[sign].fullmatch(amount) and self._could_be_thousands(amount, sign, unit):
            grouped, decimal = Fraction(int(amount.replace(sign, ""))), self._decimal(amount, sign)
            raise self._refusal(
                "ambiguous-separator",
                f"the {'comma' if sign == ',' else 'point'} may part thousands or decimals",
                *(length_text(int(value * unit.nanometres), unit) for value in (grouped, decimal)),
            )
        return self._decimal(amount, sign)

    def _could_be_thousands(self, amount: str, sign: str, unit: Unit) -> bool:
        """Whether one set of three digits is in doubt: a comma always, a point as in ``1.250`` mm."""
        in_reach = unit.metric and int(amount.replace(sign, "")) * unit.nanometres < _IN_REACH
        return sign == "," or (amount.endswith("0") and in_reach)

    def _grouped(self, amount: str, group: str, decimal: list[str]) -> Fraction:
        """Read thousands in sets of three, then decimals behind the decimal sign, if there is one."""
        if len(decimal) > 1 or any(amount.count(sign) > 1 for sign in decimal):
            return self._not_a_number()
        whole, _, rest = amount.partition(decimal[0]) if decimal else (amount, "", "")
        if not _GROUPS[group].fullmatch(whole) or (decimal and not (rest.isascii() and rest.isdigit())):
            return self._not_a_number()
        return self._decimal(f"{whole.replace(group, '')}.{rest}", ".")

    def _decimal(self, amount: str, sign: str) -> Fraction:
        whole, _, rest = amount.partition(sign)
        if not (whole + rest).isdigit():
            return self._not_a_number()
        return Fraction(int(whole + rest), 10 ** len(rest))

    def _not_a_number(self) -> Fraction:
        raise self._refusal("not-a-length", _EXAMPLES)

    def _inches_after_feet(self, amount: str) -> Fraction:
        value = self._amount(amount, Unit.INCH)
        if value >= 12:
            raise self._refusal("inches-over-12", "inches after feet are less than 12")
        return value

    def _refuse_off_tape(self, value: Fraction, amount: str, unit: Unit) -> None:
        """Refuse decimal inches that are on no 1/64 mark: rounded, or eighths after a carpenter's point."""
        nanometres = value * unit.nanometres
        marks = nanometres * _FINEST_PER_INCH / Unit.INCH.nanometres
        if marks.denominator == 1:
            return
        nearest = Length(round(marks) * Unit.INCH.nanometres // _FINEST_PER_INCH)
        exact = (length_text(int(nanometres), Unit.MM),) if nanometres.denominator == 1 else ()
        whole, _, eighths = amount.replace(",", ".").partition(".")
        if unit is Unit.INCH and len(eighths) == 1 and eighths in "1234567":
            carpenter = (int(whole or 0) + Fraction(int(eighths), 8)) * unit.nanometres
            raise self._refusal(
                "decimal-inch",
                "a decimal of an inch, or eighths behind a point; write the fraction",
                *exact,
                length_text(int(carpenter), Unit.INCH),
            )
        raise self._refusal(
            "finer-than-64th",
            "inches are read down to 1/64; write the fraction or give millimetres",
            *exact,
            length_text(nearest, Unit.INCH),
        )

    def _no_unit(self, amount: str) -> LengthNotUnderstood:
        readings: list[str] = []
        for unit in (Unit.MM, Unit.INCH):
            try:
                readings.append(length_text(read_length(amount, unit, may_be_zero=True).length, unit))
            except LengthNotUnderstood as why:
                readings.extend(why.readings)
        return self._refusal(
            "no-unit", "neither the text nor its heading names a unit", *dict.fromkeys(readings)
        )

    def _reading(self, value: Fraction, unit: Unit, *, said: Unit | None = None) -> Reading:
        nanometres = value * unit.nanometres
        if nanometres == 0 and not self.may_be_zero:
            raise self._refusal("zero", "a length must be more than zero")
        if nanometres > _LONGEST:
            raise self._refusal("out-of-range", "no bar is longer than 10 km")
        if nanometres.denominator != 1:
            raise self._refusal("finer-than-nanometre", "lengths are read down to one nanometre")
        return Reading(Length(int(nanometres)), said or unit, self.text)

    def _refusal(self, code: str, expected: str, *readings: str) -> LengthNotUnderstood:
        return LengthNotUnderstood(self.text, expected, code=code, readings=readings)
