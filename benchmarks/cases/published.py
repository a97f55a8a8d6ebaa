"""
Published classes, read from a folder of gzip'd JSON lines that is never part of this project.

The classes marked CC BY-NC(-ND) are for measuring only; results on them may be reported, their data
must not be passed on.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from functools import partial
from pathlib import Path
from typing import Any

from benchmarks.case import Case, CaseClass
from benchmarks.read import problem_of, records

_CC0 = "CC0 1.0"
_BPPLIB = "CC BY-NC-ND 4.0"
_DELORME_2016 = "Delorme, Iori & Martello (2016), EJOR 255:1-20"
_SCHOLL = "Scholl, Klein & Juergens (1997), Comput. Oper. Res. 24:627-645"
_SCHWERIN = "Schwerin & Waescher (1997), ITOR 4:377-389"
_FALKENAUER = "Falkenauer (1996), J. Heuristics 2:5-30"
_REFLECT = "data set of Delorme & Martinovic, variable-sized reflect formulation"

# A record of each form, small enough to solve by hand: two bars hold 6 + 4 and 5 + 5.
_TINY_ONE = {"name": "tiny", "capacity": 10, "lengths": [6, 5, 4], "demands": [1, 2, 1], "best_known": 2}
# Several stock lengths: the 6 and the 4 share a bar of 10, the two 5 go on bars of 5; 10 + 5 + 5.
_TINY_SEVERAL = {
    "name": "tiny",
    "class": "tiny",
    "stock_lengths": [10, 5],
    "stock_supply": [1, 2],
    "stock_costs": [10, 5],
    "lengths": [6, 5, 4],
    "demands": [1, 2, 1],
    "best_known": 20,
}


def _number(record: Mapping[str, Any]) -> str:
    """Series by the number of pieces, as the papers name them: ``u250``, ``n = 402``."""
    pieces = sum(record["demands"])
    return f"n = {pieces}"


def _gschwind(record: Mapping[str, Any]) -> str:
    found = re.match(r"cs([AB]{2})", record["name"])
    return found.group(1) if found else ""


def _stated(record: Mapping[str, Any]) -> str:
    return str(record.get("class", ""))


def _whole(record: Mapping[str, Any]) -> str:
    return ""


def _case(record: Mapping[str, Any], series: Callable[[Mapping[str, Any]], str]) -> Case:
    # The pattern-reduction set knows bars as "rolls"; its best_known counts patterns instead.
    best = record["rolls"] if "rolls" in record else record.get("best_known")
    return Case(
        name=record["name"],
        series=series(record),
        problem=problem_of(record),
        best_known=best,
        optimal=None if "rolls" in record else record.get("optimal"),
    )


def _load(file: str, series: Callable[[Mapping[str, Any]], str], folder: Path) -> tuple[Case, ...]:
    return tuple(_case(record, series) for record in records(folder / f"{file}.jsonl.gz"))


def _class(
    name: str,
    source: str,
    licence: str,
    series: Callable[[Mapping[str, Any]], str] = _whole,
    tiny: Mapping[str, Any] = _TINY_ONE,
) -> CaseClass:
    return CaseClass(
        name=name,
        source=source,
        licence=licence,
        load=partial(_load, name, series),
        tiny=partial(_case, tiny, series),
    )


CLASSES = (
    _class("falkenauer_u", _FALKENAUER, _CC0, _number),
    _class("falkenauer_t", _FALKENAUER, _CC0, _number),
    _class("scholl_1", _SCHOLL, _CC0),
    _class("scholl_2", _SCHOLL, _CC0),
    _class("scholl_3", _SCHOLL, _CC0),
    _class("schwerin_1", _SCHWERIN, _CC0),
    _class("schwerin_2", _SCHWERIN, _CC0),
    _class("waescher", "Waescher & Gau (1996), OR Spektrum 18:131-144", _CC0),
    _class("hard28", "Schoenfield (2002), technical report", _CC0),
    _class("dim_random", _DELORME_2016, _BPPLIB),
    _class("ai", _DELORME_2016, _BPPLIB, _number),
    _class("ani", _DELORME_2016, _BPPLIB, _number),
    _class("gi", "Gschwind & Irnich (2016), INFORMS J. Comput. 28:175-194", _BPPLIB, _gschwind),
    _class("newhard", "da Silva & Schouery (2025), doi 10.1287/ijoc.2023.0399", "CC BY-NC 4.0", _number),
    _class("small_nonirup", "Dresden cutting and packing group's test data", "none stated"),
    _class("textbook", "text books, each named in its record", "facts"),
    _class(
        "vscsp_belov",
        "Belov & Scheithauer (2002), EJOR 141:274-294; " + _REFLECT,
        _BPPLIB,
        _stated,
        _TINY_SEVERAL,
    ),
    _class("vscsp_crainic", "Crainic, Perboli, Rei & Tadei; " + _REFLECT, _BPPLIB, _stated, _TINY_SEVERAL),
    _class(
        "vscsp_hemmelmayr",
        "Hemmelmayr, Schmid & Blum (2012), Comput. Oper. Res. 39:1097-1108; " + _REFLECT,
        _BPPLIB,
        _stated,
        _TINY_SEVERAL,
    ),
    _class("vscsp_random", "Delorme & Martinovic, random; " + _REFLECT, _BPPLIB, _stated, _TINY_SEVERAL),
    # Bars only: the knife and run limits of the source are not modelled, so its bar counts are no bounds.
    _class("pattern_reduction", "Goulimis (2015), Pattern Reduction Test Instances v1.1", _CC0),
)
