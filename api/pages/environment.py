"""Templates, and the words in which they print lengths, money, counts and times."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from functools import cache
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined, pass_context
from jinja2.runtime import Context
from markupsafe import Markup, escape

from api.pages.assets import static_url
from nesting.money import money_text
from nesting.reports.lengths import BothUnits
from nesting.units import Length

FOLDER = Path(__file__).parent / "templates"
SCREENS = (("/new", "New plan"), ("/plans", "Plans"), ("/rack", "Rack"), ("/jobs", "Jobs"))


@cache
def environment() -> Environment:
    """Give the templates' environment: everything escaped, a misspelt name an error."""
    made = Environment(
        loader=FileSystemLoader(FOLDER),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        auto_reload=False,
    )
    made.filters.update(
        length=length,
        length_of=len,
        both=both,
        money=money,
        cost=cost,
        moment=moment,
        day=day,
        count=count,
        grouped=grouped,
        letters=letters,
    )
    made.globals.update(static_url=static_url, screens=SCREENS)
    return made


def render(template: str, context: Mapping[str, object]) -> str:
    """
    Fill a template in.

    Parameters
    ----------
    context
        With ``lengths``, the printer of lengths, among its names.
    """
    return environment().get_template(template).render(context)


@pass_context
def length(context: Context, nanometres: int) -> str:
    """Print a length in the reader's unit."""
    return _lengths(context).first(Length(nanometres))


@pass_context
def both(context: Context, nanometres: int) -> Markup:
    """Print a length in the reader's unit, and small behind it in the other one."""
    lengths = _lengths(context)
    first, second = lengths.first(Length(nanometres)), lengths.second(Length(nanometres))
    return Markup('<span class="length">{} <small>{}</small></span>').format(first, second)


def _lengths(context: Context) -> BothUnits:
    lengths = context["lengths"]
    assert isinstance(lengths, BothUnits)
    return lengths


def money(amount: int | None, currency: str = "") -> str:
    """Print an amount and its currency; a dash where no price is known."""
    if amount is None:
        return "–"
    return f"{money_text(amount)}\N{NO-BREAK SPACE}{currency}".strip()


def cost(amount: int | None, priced: bool | None) -> str:
    """Print the cost of a search: money, or new bars where there are no prices; a dash while unknown."""
    if amount is None:
        return "–"
    return money_text(amount) if priced else count(amount, "new bar")


def letters(at: str) -> str:
    """Give the column of a cell's address: ``C`` of ``C17``."""
    return at.rstrip("0123456789")


def moment(microseconds: int) -> Markup:
    """Print a time of the service, UTC, to the minute."""
    at = _at(microseconds)
    shown = f"{at:%Y-%m-%d} {at:%H:%M} UTC"
    return Markup('<time datetime="{}">{}</time>').format(f"{at:%Y-%m-%dT%H:%M:%SZ}", escape(shown))


def day(microseconds: int) -> Markup:
    """Print the day of a time, UTC."""
    at = _at(microseconds)
    return Markup('<time datetime="{0}">{0}</time>').format(f"{at:%Y-%m-%d}")


def _at(microseconds: int) -> dt.datetime:
    return dt.datetime.fromtimestamp(microseconds // 1_000_000, dt.UTC)


def count(number: int, one: str, many: str = "") -> str:
    """Print a number of things: ``1 bar``, ``12 bars``."""
    return f"{grouped(number)}\N{NO-BREAK SPACE}{one if number == 1 else many or one + 's'}"


def grouped(number: int) -> str:
    """Print a whole number, from five figures on in groups of three with a narrow space."""
    return f"{number:,}".replace(",", "\N{NARROW NO-BREAK SPACE}") if number >= 10_000 else str(number)
