"""What the service has on offer for a request, as plain values."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from api.stock.currency import shop_currencies
from api.stock.terms import stock_line
from api.store.models import FamilyRow, OffcutRow, ShelfRow
from api.web.lengths import day_of_moment
from nesting.domain.material import Family, Part
from nesting.domain.request import Request
from nesting.domain.rules import DEFAULT_SAW
from nesting.domain.stock import EndState, Offcut, StockLine
from nesting.errors import Finding, InputRefused, Severity, Where
from nesting.exchange import read_request, write_request
from nesting.money import Money
from nesting.stockroom.states import State
from nesting.units import Length


@dataclass(frozen=True, slots=True)
class Contents:
    """
    Families, bars and free offcuts, and the currency of the bars' prices where one is named.

    Parameters
    ----------
    notes
        What the workbook they were read from says besides, and is not taken in.
    """

    families: tuple[Family, ...] = ()
    stock: tuple[StockLine, ...] = ()
    offcuts: tuple[Offcut, ...] = ()
    currency: str = ""
    notes: tuple[Finding, ...] = field(default=(), compare=False)


def contents(session: Session) -> Contents:
    """Give everything a new plan may use."""
    families = session.scalars(select(FamilyRow).order_by(FamilyRow.name))
    free = select(OffcutRow).where(OffcutRow.state == State.FREE.value).order_by(OffcutRow.tag)
    return Contents(
        families=families_of([row.document for row in families]),
        stock=tuple(stock_line(row) for row in shelves_in_order(session)),
        offcuts=tuple(offcut_of(row) for row in session.scalars(free)),
        currency=next(iter(shop_currencies(session)), ""),
    )


def shelves_in_order(session: Session) -> Sequence[ShelfRow]:
    """Give the shelves, the lengths of one material together."""
    order = (ShelfRow.family, ShelfRow.finish, ShelfRow.part, ShelfRow.length)
    return session.scalars(select(ShelfRow).order_by(*order)).all()


def lend(text: str, have: Contents) -> str:
    """
    Give a request document with what it leaves out; what it says itself stays as it is.

    The tables are put in front of the text's own, which is not written anew: every number keeps its
    digits, every finding its pointer. A text that is no JSON object is left for the reader to refuse.

    Raises
    ------
    InputRefused
        When the text names another currency than the prices it would be lent.
    """
    try:
        tree = json.loads(text)
    except (ValueError, RecursionError):
        return text
    if not isinstance(tree, dict) or not tree:
        return text
    used = _families_named(tree)
    lines = tuple(line for line in have.stock if line.family in used)
    lent = _document(
        Contents(
            families=tuple(family for family in have.families if family.name in used),
            stock=lines,
            offcuts=tuple(offcut for offcut in have.offcuts if offcut.family in used),
        )
    )
    missing = [name for name in ("families", "stock", "offcuts") if name not in tree and lent.get(name)]
    if "stock" in missing and have.currency and any(line.price is not None for line in lines):
        missing += _currency_missing(tree, have.currency)
        lent["currency"] = have.currency
    head = "".join(f"{json.dumps(name)}: {json.dumps(lent[name])}, " for name in missing)
    return text.replace("{", "{" + head, 1) if head else text


def _currency_missing(tree: dict[str, Any], lent: str) -> list[str]:
    said = tree.get("currency")
    if said in (None, ""):
        # A key that is there without a value cannot be given a second time.
        return [] if "currency" in tree else ["currency"]
    if said == lent:
        return []
    raise InputRefused(
        (
            Finding(
                severity=Severity.ASK,
                code="currencies-differ",
                where=Where("request", "/currency"),
                found=str(said)[:80],
                message=f"The bars' prices here are in {lent}; send your own bars, or plan in {lent}.",
            ),
        )
    )


def narrowed(request: Request) -> Request:
    """Give the request without catalogue, bars and offcuts of families that it makes nothing of."""
    used = {run.family for run in request.runs} | {line.family for line in request.piece_lines}
    return replace(
        request,
        families=tuple(family for family in request.families if family.name in used),
        stock=tuple(line for line in request.stock if line.family in used),
        offcuts=tuple(offcut for offcut in request.offcuts if offcut.family in used),
    )


def family_document(family: Family) -> dict[str, Any]:
    """Give a family as an exchange document."""
    document = _document(Contents(families=(family,)))["families"][0]
    assert isinstance(document, dict)
    return document


def families_of(documents: list[dict[str, Any]]) -> tuple[Family, ...]:
    """Give the families of exchange documents."""
    if not documents:
        return ()
    return read_request(json.dumps({"schema": 1, "saw": {}, "families": documents})).families


def offcut_of(row: OffcutRow) -> Offcut:
    """Give an offcut's row as a value."""
    return Offcut(
        tag=row.tag,
        family=row.family,
        finish=row.finish,
        part=Part(row.part),
        length=Length(row.length),
        left=EndState(row.left),
        right=EndState(row.right),
        lot=row.lot,
        place=row.place,
        value=None if row.value is None else Money(row.value),
        born=day_of_moment(row.born_at),
    )


def _document(have: Contents) -> dict[str, Any]:
    request = Request(families=have.families, stock=have.stock, offcuts=have.offcuts, saw=DEFAULT_SAW)
    tree = json.loads(write_request(request))
    assert isinstance(tree, dict)
    return tree


def _families_named(tree: dict[str, Any]) -> set[str]:
    lines = [line for name in ("runs", "piece_lines") for line in _list(tree.get(name))]
    return {
        line["family"] for line in lines if isinstance(line, dict) and isinstance(line.get("family"), str)
    }


def _list(value: object) -> list[Any]:
    return value if isinstance(value, list) else []
