"""Lengths, money, counts and times are printed one way on every page, and everything else is escaped."""

from __future__ import annotations

import pytest

from api.pages.environment import cost, count, day, environment, grouped, letters, moment, money
from nesting.reports.lengths import BothUnits
from nesting.units import Unit, mm


def shown(text: str, unit: Unit = Unit.MM, **context: object) -> str:
    return environment().from_string(text).render(lengths=BothUnits(unit), **context).replace("\u00a0", " ")


def test_a_length_is_said_in_the_readers_unit_with_the_other_beside_it() -> None:
    """920.75 mm = 36.25 in exactly; 100 mm = 3.937 in lies between the marks and says so."""
    assert shown("{{ a | length }}", a=mm(1206)) == "1206 mm"
    both = "{{ a | both }}"
    assert shown(both, a=920_750_000) == '<span class="length">920.75 mm <small>36 1/4 in</small></span>'
    assert (
        shown(both, Unit.INCH, a=920_750_000)
        == '<span class="length">36 1/4 in <small>920.75 mm</small></span>'
    )
    assert "~" in shown(both, a=mm(100))


def test_what_people_type_is_escaped() -> None:
    """A run's name is no markup."""
    assert shown("{{ a }}", a="<b>&") == "&lt;b&gt;&amp;"


@pytest.mark.parametrize(
    ("amount", "currency", "text"),
    [(10_254_000, "XTS", "1025.40 XTS"), (125, "", "0.0125"), (None, "XTS", "–"), (0, "", "0.00")],
)
def test_money(amount: int | None, currency: str, text: str) -> None:
    """Two decimals, four where two would hide something, a dash where no price is known."""
    assert money(amount, currency).replace("\u00a0", " ") == text


def test_the_cost_of_a_search_is_money_or_new_bars() -> None:
    """Without prices every new bar counts one, and says so."""
    assert cost(10_254_000, True) == "1025.40"
    assert cost(31, False) == "31\u00a0new bars"
    assert cost(1, None) == "1\u00a0new bar"
    assert cost(None, True) == "–"


def test_counts_say_what_they_count() -> None:
    """One and many, and long numbers in groups."""
    assert count(1, "bar") == "1\u00a0bar"
    assert count(0, "family", "families") == "0\u00a0families"
    assert (grouped(9_999), grouped(1_234_567)) == ("9999", "1\u202f234\u202f567")


def test_times_are_utc_and_say_so() -> None:
    """1 600 000 000 s after 1970 is 2020-09-13 12:26:40 UTC."""
    at = 1_600_000_000 * 1_000_000
    assert moment(at) == '<time datetime="2020-09-13T12:26:40Z">2020-09-13 12:26 UTC</time>'
    assert day(at) == '<time datetime="2020-09-13">2020-09-13</time>'


def test_a_column_is_known_by_its_letters() -> None:
    """As spreadsheets name it."""
    assert letters("C17") == "C"
    assert letters("AAA1") == "AAA"
