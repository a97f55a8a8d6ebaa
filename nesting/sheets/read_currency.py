"""The currency of a list: named once for all, or by the headings and cells of its prices."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from nesting.errors import Where
from nesting.sheets.cells import CellKind
from nesting.sheets.columns_currency import currencies_in
from nesting.sheets.findings import Findings
from nesting.sheets.read_header import Table


@dataclass(frozen=True, slots=True, kw_only=True)
class Named:
    """A currency met with prices: its code, or the codes its sign may stand for, and where."""

    currencies: tuple[str, ...]
    where: Where
    text: str


def currencies_of(table: Table) -> Iterator[Named]:
    """Give the currencies that the headings and cells of a table's prices name, top down."""
    for column in table.plan.columns:
        number = table.columns.get(column.field)
        if not column.money or number is None:
            continue
        cells = [table.header.cell(number)]
        cells += [cell for row in table.body if (cell := row.cell(number)).kind is CellKind.TEXT]
        for cell in cells:
            if codes := currencies_in(cell.text):
                yield Named(currencies=codes, where=table.sheet.where(cell), text=cell.text)


def settled_currency(code: str, met: Sequence[Named], findings: Findings) -> str:
    """
    Give the one currency of a request: the code given for it, else what its prices name.

    Parameters
    ----------
    code
        ISO 4217 code of the options or the Saw sheet; empty when neither says one.
    met
        Currencies named with the prices. One that contradicts another, or the code, is asked about.
    """
    if not met:
        return code
    possible = [code] if code else list(met[0].currencies)
    first = code or met[0].text
    for named in met:
        left = [one for one in possible if one in named.currencies]
        if not left:
            findings.ask(
                "currencies-differ",
                named.where,
                named.text,
                f"Prices in {first!r} stand elsewhere; give all of them in one currency.",
            )
            return code
        possible = left
    if not code and len(possible) > 1:
        findings.warning(
            "currency-guessed",
            met[0].where,
            met[0].text,
            f"Several currencies have this sign; {possible[0]} is taken. Name yours in the Saw sheet.",
        )
    elif not code:
        findings.note(
            "currency-from-prices", met[0].where, met[0].text, f"{possible[0]} is taken as the currency."
        )
    return possible[0]
