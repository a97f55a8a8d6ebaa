"""
Four material groups of the demo building Orrelbeck Yard, typed as data.

Prices are ten-thousandths of the order's currency; saw: kerf 3 mm, 8 mm trimmed at each bar end. The best
known costs are our own, first computed by enumerating cutting patterns and solving a plain integer model.
"""

from __future__ import annotations

from pathlib import Path

from benchmarks.case import Case, CaseClass
from nesting.domain.problem import BarKind, Problem
from nesting.money import read_money
from nesting.units import mm


def _group(name: str, pieces: dict[str, int], stock: dict[int, str], best_known: str) -> Case:
    ordered = sorted(((mm(length), count) for length, count in pieces.items()), reverse=True)
    problem = Problem(
        name=name,
        lengths=tuple(length for length, _ in ordered),
        counts=tuple(count for _, count in ordered),
        bars=tuple(
            BarKind(key=str(length), length=mm(length), head=mm(8), tail=mm(8), cost=read_money(price))
            for length, price in stock.items()
        ),
        kerf=mm(3),
    )
    return Case(name=name, problem=problem, best_known=read_money(best_known), optimal=True)


def _load(folder: Path) -> tuple[Case, ...]:
    return (
        _group(
            "TOLV-17N",
            {"2404": 12, "2200": 14, "1803": 24, "1800": 10, "1200": 24, "898": 14, "592": 10},
            {2000: "11.40", 2500: "14.00"},
            "1025.40",
        ),
        _group(
            "BRASK-20F",
            {"1176": 12, "976": 38, "776": 22, "416": 48},
            {2000: "12.80", 3000: "18.60"},
            "565.00",
        ),
        _group("SARN-12R", {"1460": 50, "1140": 22}, {2000: "9.60", 3000: "15.30"}, "550.80"),
        _group("IMBO-45A", {"1507.6": 24, "1317.6": 14}, {2500: "16.20", 3000: "19.90"}, "440.60"),
    )


def _tiny() -> Case:
    return _load(Path())[2]


CLASSES = (
    CaseClass(name="demo", source="our demo building", licence="this project's", load=_load, tiny=_tiny),
)
