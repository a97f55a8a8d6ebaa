"""How a stock line is sold, and how the shop buys, as a sheet says it."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any

from nesting.domain.buying import BreakScope, BuyingRules, OffcutValue, PriceBreak, Spares
from nesting.errors import MoneyNotUnderstood, ProblemError, Where
from nesting.money import NO_MONEY, money_text, percent_text, read_share
from nesting.sheets.cells import Cell, CellKind
from nesting.sheets.columns_currency import without_currency
from nesting.sheets.findings import Findings
from nesting.sheets.read_price import read_price
from nesting.sheets.read_values import broken_cell, decimal_point, money_of, quantity_of, text_of, yes_no_of

_BREAK = re.compile(
    r"(?:(?P<off>[0-9.,]+) ?%(?: off)?|(?P<price>[0-9.,]+)) (?:from|at) (?P<bars>[0-9]{1,6})(?: bars?)?"
    r"(?P<total> (?:in all|in total|altogether|total))?",
    re.IGNORECASE,
)
_EXPECTED = "Accepted is 10 % from 60; 13.00 from 100; with in all behind it when all lengths count."
_NONE = ("0", "none", "-", "no")


def terms_of(
    cell_of: Callable[[str], Cell], where_of: Callable[[Cell], Where], findings: Findings
) -> dict[str, Any]:
    """Give the terms of one stock line as fields of the domain's line; blank cells take its defaults."""
    terms: dict[str, Any] = {}
    for field in ("on_hand", "pack", "minimum", "lead_days"):
        cell = cell_of(field)
        if not cell.filled or cell.text.lower() in _NONE:
            continue
        text = re.sub(r"(?i)\s*(?:bars?|days?|pcs)$", "", cell.text)
        count = _count(cell, text, where_of(cell), findings)
        if count is not None:
            terms[field] = count
    if (cell := cell_of("hand_value")).filled:
        terms["hand_value"] = money_of(cell, where_of(cell), findings)
    if (cell := cell_of("breaks")).filled:
        terms["breaks"] = breaks_of(cell, where_of(cell), findings)
    if (cell := cell_of("supplier")).filled:
        terms["supplier"] = text_of(cell, where_of(cell), findings)
    return terms


def breaks_of(cell: Cell, where: Where, findings: Findings) -> tuple[PriceBreak, ...]:
    """Give the price breaks of a cell such as ``10 % from 60; 12.50 from 100 in all``."""
    if broken_cell(cell, where, findings):
        return ()
    breaks = []
    for said in re.split(r"[;\n]", without_currency(cell.raw)):
        text = " ".join(said.split())
        if not text or text.lower() in _NONE:
            continue
        match = _BREAK.fullmatch(text)
        try:
            if match is None:
                raise ProblemError(_EXPECTED)
            breaks.append(
                PriceBreak(
                    bars=int(match["bars"]),
                    price=read_price(match["price"]).amount if match["price"] else None,
                    off=read_share(decimal_point(match["off"])) if match["off"] else None,
                    scope=BreakScope.TOTAL if match["total"] else BreakScope.LINE,
                )
            )
        except MoneyNotUnderstood as why:
            findings.error("break-not-understood", where, text, f"Accepted is {why.expected}.")
        except ProblemError as why:
            findings.error("break-not-understood", where, text, str(why))
    return tuple(breaks)


def breaks_text(breaks: tuple[PriceBreak, ...]) -> str:
    """Give breaks as a cell that reads back as the same ones."""
    return "; ".join(
        f"{money_text(one.price) if one.price is not None else percent_text(one.off or 0)} from {one.bars}"
        + (" in all" if one.scope is BreakScope.TOTAL else "")
        for one in breaks
    )


def buying_of(
    cells: Mapping[str, Cell], where_of: Callable[[Cell], Where], findings: Findings
) -> BuyingRules:
    """Give what the Saw sheet's lines say about buying; what is missing or wrong is as if not said."""
    spares: dict[str, Any] = {}
    if (cell := cells.get("spare_bars")) is not None:
        count = 0 if cell.text.lower() in _NONE else _count(cell, cell.text, where_of(cell), findings)
        spares["bars"] = count or 0
    if (cell := cells.get("spare_share")) is not None:
        spares["share"] = _share(cell, where_of(cell), findings) or 0
    if (cell := cells.get("from_tails")) is not None:
        spares["from_tails"] = bool(yes_no_of(cell, "spares from tails", where_of(cell), findings))
    rules: dict[str, Any] = {"spares": Spares(**spares)}
    if (cell := cells.get("fetch")) is not None:
        rules["fetch"] = money_of(cell, where_of(cell), findings) or NO_MONEY
    if (cell := cells.get("least_order")) is not None:
        rules["least_order"] = money_of(cell, where_of(cell), findings) or NO_MONEY
    if (cell := cells.get("budget")) is not None:
        rules["budget"] = money_of(cell, where_of(cell), findings)
    shares = {
        name: share
        for name in ("low", "high")
        if (cell := cells.get(f"offcut_{name}")) is not None
        and (share := _share(cell, where_of(cell), findings)) is not None
    }
    last = next(iter(cells.values()), None)
    try:
        if shares:
            last = cells[f"offcut_{next(iter(shares))}"]
            rules["offcut_value"] = OffcutValue(**shares)
        if (cell := cells.get("needed_by")) is not None:
            last = cell
            rules["needed_by"] = _date(cell)
        return BuyingRules(**rules)
    except ProblemError as why:
        if last is not None:
            findings.error("cannot-exist", where_of(last), last.raw, str(why))
        return BuyingRules()


def _count(cell: Cell, text: str, where: Where, findings: Findings) -> int | None:
    return quantity_of(cell if text == cell.text else replace(cell, raw=text), where, findings)


def _share(cell: Cell, where: Where, findings: Findings) -> int | None:
    text = cell.text
    if cell.kind is CellKind.NUMBER and 0 < float(text) < 1:
        findings.ask(
            "share-not-clear", where, cell.raw, "Write the share with its sign, such as 3 %, as text."
        )
        return None
    try:
        return read_share(decimal_point(text))
    except MoneyNotUnderstood as why:
        findings.error("share-not-understood", where, cell.raw, f"Accepted is {why.expected}.")
        return None


def _date(cell: Cell) -> str:
    match = re.match(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", cell.text)
    return match[0] if match else cell.text
