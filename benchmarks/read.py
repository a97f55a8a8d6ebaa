"""
Published cutting-stock instances as problems: JSON lines and the two plain text forms.

Lengths of an instance are bare numbers; they are taken as whole nanometres after scaling away
decimals, with no kerf and no trims, so that fit is decided exactly as in the papers.
"""

from __future__ import annotations

import gzip
import json
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal
from pathlib import Path
from typing import Any

from nesting.domain.problem import BarKind, Problem
from nesting.units import Length


def records(path: Path) -> Iterator[dict[str, Any]]:
    """Give the records of a gzip'd JSON-lines file; numbers with decimals stay exact."""
    with gzip.open(path, "rt", encoding="utf-8") as lines:
        for line in lines:
            yield json.loads(line, parse_float=Decimal)


def problem_of(record: Mapping[str, Any]) -> Problem:
    """
    Give the problem of one record, single stock length or several.

    Parameters
    ----------
    record
        ``lengths`` and ``demands``, and one of: ``capacity``; ``stock_lengths`` with ``stock_supply`` and
        ``stock_costs``; ``stock``, a list of objects with ``length``, ``supply`` (or null) and ``cost``.
    """
    if "capacity" in record:
        stock = [(record["capacity"], None, 1)]
    elif "stock" in record:
        stock = [(line["length"], line["supply"], line["cost"]) for line in record["stock"]]
    else:
        stock = list(zip(record["stock_lengths"], record["stock_supply"], record["stock_costs"], strict=True))
    return problem(record["name"], record["lengths"], record["demands"], stock)


def problem(
    name: str,
    lengths: Sequence[int | Decimal],
    demands: Sequence[int],
    stock: Sequence[tuple[int | Decimal, int | None, int]],
) -> Problem:
    """
    Give a problem with no kerf and no trims.

    Parameters
    ----------
    lengths, demands
        Piece lengths in any order, repeats allowed, and how many of each; shape ``(m,)``.
    stock
        Length, supply (None when unlimited) and cost of each kind of bar.
    """
    scale = 10 ** max(_decimals(value) for value in [*lengths, *(line[0] for line in stock)])
    counts: Counter[int] = Counter()
    for length, demand in zip(lengths, demands, strict=True):
        if demand:
            counts[int(length * scale)] += demand
    distinct = sorted(counts, reverse=True)
    bars = tuple(
        BarKind(key=f"{number}: {length}", length=Length(int(length * scale)), cost=cost, count=supply)
        for number, (length, supply, cost) in enumerate(stock, start=1)
        # A bar shorter than every piece can never be used, and a problem does not list such bars.
        if int(length * scale) >= distinct[-1]
    )
    return Problem(
        name=name,
        lengths=tuple(Length(length) for length in distinct),
        counts=tuple(counts[length] for length in distinct),
        bars=bars,
    )


def read_plain(text: str, name: str) -> Problem:
    """
    Read the public library's text: a number of items, the bar length, then the items line by line.

    An item line holds a length and a demand (cutting-stock form) or a length alone (bin-packing form).

    Raises
    ------
    ValueError
        When the number of item lines is not the one announced, or a line has another shape.
    """
    rows = [line.split() for line in text.splitlines() if line.strip()]
    if len(rows) < 2 or len(rows[0]) != 1 or len(rows[1]) != 1:
        raise ValueError(f"{name}: the first two lines must be the number of items and the bar length.")
    announced, capacity, items = int(rows[0][0]), int(rows[1][0]), rows[2:]
    if len(items) != announced:
        raise ValueError(f"{name}: {announced} items announced, {len(items)} found.")
    width = len(items[0]) if items else 0
    if width not in (1, 2) or any(len(item) != width for item in items):
        raise ValueError(f"{name}: every item line must be 'length demand', or every one 'length'.")
    demands = [int(item[1]) if width == 2 else 1 for item in items]
    return problem(name, [int(item[0]) for item in items], demands, [(capacity, None, 1)])


def _decimals(value: int | Decimal) -> int:
    if isinstance(value, int):
        return 0
    exponent = value.normalize().as_tuple().exponent
    if not isinstance(exponent, int):
        raise ValueError(f"{value} is no length.")
    return max(-exponent, 0)
