"""What stands in for families, finishes and bars that a list does not name."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import TypeVar

from nesting.domain.material import Family
from nesting.domain.request import Request
from nesting.domain.runs import PieceLine, Run
from nesting.domain.stock import Offcut, StockLine
from nesting.errors import Where
from nesting.sheets.findings import Findings, listed
from nesting.sheets.read_needs import materials_needed, stock_by_material
from nesting.sheets.read_options import ReadOptions

PLAIN_FAMILY = "channel"
BARS_OPTION = Where("request", "--bar")

Made = TypeVar("Made", Run, PieceLine)
Named = TypeVar("Named", Run, PieceLine, StockLine, Offcut)


def with_families(
    lines: Sequence[Named],
    known: Sequence[str],
    *,
    plain: bool,
    findings: Findings,
) -> list[Named]:
    """
    Give lines that name no family the only one known; ask where there are several.

    Parameters
    ----------
    known
        Names of the families in the catalogue and the stock; without any, those the list names itself.
    plain
        Whether a list without any catalogue takes one plain family.
    """
    blank = [line for line in lines if not line.family]
    if not blank:
        return list(lines)
    only = known[0] if len(known) == 1 else PLAIN_FAMILY if plain and not known else ""
    at = listed([str(line.where) for line in blank])
    if not only:
        choice = f"; known are {listed(known)}" if known else ""
        findings.ask(
            "family-missing",
            blank[0].where,
            "",
            f"{len(blank)} line(s) name no channel family{choice}. Write it into each line. Rows: {at}.",
        )
        return list(lines)
    findings.note(
        "default-family",
        blank[0].where,
        "",
        f"No family is given; {only!r} is taken. Rows: {len(blank)} ({at}).",
    )
    return [line if line.family else replace(line, family=only) for line in lines]


def with_finishes(lines: Sequence[Made], stock: Sequence[StockLine], findings: Findings) -> list[Made]:
    """Give lines that name no finish the only one their family is stocked in."""
    finishes: dict[str, set[str]] = {}
    for bar in stock:
        finishes.setdefault(bar.family, set()).add(bar.finish)
    out: list[Made] = []
    taken: dict[tuple[str, str], list[Where]] = {}
    for line in lines:
        stocked = finishes.get(line.family, set())
        if not line.finish and len(stocked) == 1 and (only := next(iter(stocked))):
            taken.setdefault((line.family, only), []).append(line.where)
            line = replace(line, finish=only)
        out.append(line)
    for (_, finish), places in taken.items():
        findings.note(
            "default-finish",
            places[0],
            "",
            f"No finish is given; {finish!r}, the only one in stock, is taken. Rows: {len(places)}.",
        )
    return out


def plain_families(runs: Iterable[Run], findings: Findings, *, tell: bool = True) -> tuple[Family, ...]:
    """Give a plain family for each name of a run list that comes without any catalogue, and tell of it."""
    names = tuple(dict.fromkeys(run.family for run in runs if run.family))
    if names and tell:
        findings.warning(
            "plain-families",
            Where("Families"),
            listed(names),
            "There is no Families sheet: caps count as taking no length, no cover and no strip is planned.",
        )
    return tuple(Family(name=name) for name in names)


def quick_stock(request: Request, options: ReadOptions) -> tuple[StockLine, ...]:
    """Give the bars named on the command line for every material that has no stock line of its own."""
    stocked = stock_by_material(request.stock)
    return tuple(
        StockLine(family=family, finish=finish, part=part, length=length, price=price, where=BARS_OPTION)
        for family, finish, part in materials_needed(request, {})
        if (family, finish, part) not in stocked
        for length, price in options.bars
    )
