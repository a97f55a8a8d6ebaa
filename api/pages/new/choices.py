"""What can be chosen beside a list: allowances of the saw, bars, the unit of bare numbers."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from nesting.domain.rules import DEFAULT_SAW
from nesting.errors import LengthNotUnderstood, MoneyNotUnderstood, Where
from nesting.money import Money
from nesting.sheets.columns import SAW_LENGTHS
from nesting.sheets.corrections import Correction
from nesting.sheets.quick_bar import read_quick_bar
from nesting.sheets.read_currency import Named
from nesting.sheets.read_options import ReadOptions
from nesting.units import Length, Unit, read_length

SETTINGS = "settings"
"""Source of findings about what was chosen here."""
UNITS = (Unit.MM, Unit.CM, Unit.M, Unit.INCH, Unit.FOOT)
FIELDS = (*SAW_LENGTHS, "unit", "job", "currency", "bars", "title", "seconds", "stock")
OWN_STOCK_ONLY = "list"
_LONGEST = {"bars": 4000, "title": 200, "job": 200}


@dataclass(frozen=True, slots=True)
class SawField:
    """One allowance of the saw: its name in the form, in words, what it means, and what is usual."""

    name: str
    words: str
    meaning: str
    usual: Length


@dataclass(frozen=True, slots=True)
class Chosen:
    """
    What was chosen, understood.

    Parameters
    ----------
    options
        For the reader of lists.
    alone
        Whether nothing is lent from the service's own stock.
    seconds
        Longest search; None takes the service's own.
    faults
        What is not understood, by field, in words.
    """

    options: ReadOptions
    alone: bool
    seconds: float | None
    title: str
    faults: Mapping[str, str]


SAW_FIELDS = tuple(
    SawField(name, words, meaning, getattr(DEFAULT_SAW, name))
    for name, (words, _, meaning) in SAW_LENGTHS.items()
)


def typed_choices(form: Mapping[str, str]) -> dict[str, str]:
    """Give what a form says, field by field as it was typed, blanks left out."""
    typed = {name: form.get(name, "").strip()[: _LONGEST.get(name, 60)] for name in FIELDS}
    return {name: text for name, text in typed.items() if text}


def understood(choices: Mapping[str, str], corrections: tuple[Correction, ...] = ()) -> Chosen:
    """Read what was typed; what is not understood is a fault beside its field, and counts as not typed."""
    faults: dict[str, str] = {}
    unit = next((known for known in UNITS if known.value == choices.get("unit")), None)
    lengths: dict[str, Length] = {}
    for name in SAW_LENGTHS:
        if text := choices.get(name):
            try:
                lengths[name] = read_length(text, unit, may_be_zero=True).length
            except LengthNotUnderstood as why:
                faults[name] = _expected(why, text)
    bars, named = _bars(choices.get("bars", ""), unit, faults)
    options = ReadOptions(
        unit=unit,
        job=choices.get("job", ""),
        currency=choices.get("currency", "").upper(),
        bars=bars,
        named=named,
        corrections=corrections,
        **lengths,
    )
    seconds = _seconds(choices.get("seconds", ""), faults)
    alone = choices.get("stock") == OWN_STOCK_ONLY
    return Chosen(options, alone, seconds, choices.get("title", ""), faults)


def _bars(
    text: str, unit: Unit | None, faults: dict[str, str]
) -> tuple[tuple[tuple[Length, Money | None], ...], tuple[Named, ...]]:
    bars, named, wrong = [], [], []
    for line in filter(None, (line.strip() for line in text.splitlines())):
        try:
            bar = read_quick_bar(line, unit)
        except LengthNotUnderstood as why:
            wrong.append(f"{line!r}: {_expected(why, line.partition('=')[0])}")
        except MoneyNotUnderstood as why:
            wrong.append(f"{line!r}: the price is expected as {why.expected}.")
        else:
            bars.append((bar.length, bar.price))
            if bar.currencies:
                named.append(Named(currencies=bar.currencies, where=Where(SETTINGS, "bars"), text=line))
    if wrong:
        faults["bars"] = " ".join(wrong)
    return tuple(bars), tuple(named)


def _seconds(text: str, faults: dict[str, str]) -> float | None:
    if not text:
        return None
    try:
        seconds = float(text)
    except ValueError:
        seconds = 0.0
    if not 0 < seconds <= 86_400:
        faults["seconds"] = "A number of seconds is expected, such as 60."
        return None
    return seconds


def _expected(why: LengthNotUnderstood, text: str) -> str:
    could = f" It could be {' or '.join(why.readings)}." if why.readings else ""
    if why.code == "no-unit":
        return f"Add a unit, such as {text.strip()} mm, or choose the unit of bare numbers.{could}"
    return f"{why.expected[:1].upper()}{why.expected[1:]}.{could}"
