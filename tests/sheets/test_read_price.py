"""Prices as people type them, and headings that are prices."""

from __future__ import annotations

import pytest

from nesting.errors import MoneyNotUnderstood, Where
from nesting.money import read_money
from nesting.sheets.columns import FAMILIES, OFFCUTS, STOCK, match_heading
from nesting.sheets.columns_currency import currencies_in, without_currency
from nesting.sheets.findings import Findings
from nesting.sheets.read_currency import Named, settled_currency
from nesting.sheets.read_price import PriceAmbiguous, read_price

EUR = Named(currencies=("EUR",), where=Where("Stock", "D1"), text="Price EUR")
DOLLAR = Named(currencies=currencies_in("$"), where=Where("Stock", "D2"), text="$24.00")


@pytest.mark.parametrize(
    ("text", "amount", "currency"),
    [
        ("14", "14.00", ()),
        ("18,60", "18.60", ()),
        ("18,60 EUR", "18.60", ("EUR",)),
        ("EUR 18.60", "18.60", ("EUR",)),
        ("£3.5", "3.50", ("GBP",)),
        ("1.250,00 €", "1250.00", ("EUR",)),
        ("1,250.50", "1250.50", ()),
        ("1 250,50", "1250.50", ()),
        ("1'250.00 CHF", "1250.00", ("CHF",)),
        ("1,250,000", "1250000", ()),
        ("14.125", "14.125", ()),
        ("24.-", "24.00", ()),
    ],
)
def test_amounts(text: str, amount: str, currency: tuple[str, ...]) -> None:
    """Protects the order: the same amount however it is typed, and the currency kept."""
    price = read_price(text)
    assert (price.amount, price.currencies) == (read_money(amount), currency)


@pytest.mark.parametrize("text", ["1,250", "1.250", "18,605 EUR"])
def test_thousands_or_decimals_are_not_guessed(text: str) -> None:
    """Protects against a bar a thousand times too dear or too cheap."""
    with pytest.raises(PriceAmbiguous):
        read_price(text)


@pytest.mark.parametrize("text", ["", "cheap", "-3", "12 to 14", "1.2.3", "1,25,0"])
def test_what_is_no_price_is_refused(text: str) -> None:
    """Protects against half a price."""
    with pytest.raises(MoneyNotUnderstood) as why:
        read_price(text)
    assert not isinstance(why.value, PriceAmbiguous)


@pytest.mark.parametrize(
    ("heading", "field"),
    [
        ("Price EUR", "price"),
        ("Price, EUR", "price"),
        ("EUR/bar", "price"),
        ("USD", "price"),
        ("Rate", "price"),
        ("Net price EUR", "price"),
        ("Price ($)", "price"),
        ("Price / bar", "price"),
        ("Price breaks EUR", "breaks"),
        ("Price/m", None),
        ("EUR per metre", None),
        ("Price (per m)", None),
        ("Length EUR", None),
    ],
)
def test_stock_headings(heading: str, field: str | None) -> None:
    """Protects prices from being dropped, and a price per metre from being that of a bar."""
    found = match_heading(STOCK, heading)
    assert (found[0].field if found else None) == field


def test_other_sheets_keep_to_their_own_amounts() -> None:
    """Protects the rack's values, and sheets without money from headings that name a currency."""
    found = match_heading(OFFCUTS, "Value (EUR)")
    assert found is not None
    assert found[0].field == "value"
    assert match_heading(FAMILIES, "EUR") is None


def test_words_of_a_heading_are_no_currency() -> None:
    """Protects ordinary words that happen to be codes: all, top, try."""
    assert currencies_in("price of all, top") == ()
    assert without_currency("price of all EUR") == "price of all  "
    assert currencies_in("EUR or USD") == ()


@pytest.mark.parametrize(
    ("code", "met", "settled", "told"),
    [
        ("", (EUR,), "EUR", ["currency-from-prices"]),
        ("EUR", (EUR,), "EUR", []),
        ("USD", (EUR,), "USD", ["currencies-differ"]),
        ("", (DOLLAR,), "USD", ["currency-guessed"]),
        ("CAD", (DOLLAR,), "CAD", []),
        ("", (DOLLAR, EUR), "", ["currencies-differ"]),
        ("", (), "", []),
    ],
)
def test_one_currency_is_settled(code: str, met: tuple[Named, ...], settled: str, told: list[str]) -> None:
    """Protects the order's head: one currency, a shared sign fits any of its own, others are asked about."""
    findings = Findings()
    assert settled_currency(code, met, findings) == settled
    assert [finding.code for finding in findings.all] == told
