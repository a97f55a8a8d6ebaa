"""The process that compares what else could be bought; a building takes seconds to minutes of it."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from dataclasses import asdict, dataclass
from typing import Any

from api.processes.child import serve
from nesting.advice.comparison import Choice, Comparison, CoverChoice, Grouping, Mix
from nesting.domain.material import CoverMode, Material, Part
from nesting.units import Length


@dataclass(frozen=True, slots=True)
class Compare:
    """A request document to compare purchases for, its seed, and the seconds it may take."""

    request: str
    seed: int
    seconds: float


@dataclass(frozen=True, slots=True)
class Compared:
    """The comparison as a document."""

    document: str


@dataclass(frozen=True, slots=True)
class NotCompared:
    """Nothing can be compared, for a reason that trying again would not change."""

    reason: str


def write_comparison(comparison: Comparison) -> str:
    """Give a comparison as JSON text; ``read_comparison`` gives the same one back."""
    return json.dumps(asdict(comparison))


def read_comparison(text: str) -> Comparison:
    """Give the comparison of a JSON text that ``write_comparison`` wrote."""
    tree = json.loads(text)
    return Comparison(
        currency=tree["currency"],
        mixes=tuple(_mix(one) for one in tree["mixes"]),
        groupings=tuple(_grouping(one) for one in tree["groupings"]),
        covers=tuple(CoverChoice(**{**one, "mode": CoverMode(one["mode"])}) for one in tree["covers"]),
        cut_short=tree["cut_short"],
    )


def _mix(tree: Mapping[str, Any]) -> Mix:
    return Mix(
        **{
            **tree,
            "material": _material(tree["material"]),
            "choice": Choice(tree["choice"]),
            "lengths": tuple(Length(length) for length in tree["lengths"]),
            "bars": tuple((Length(length), count) for length, count in tree["bars"]),
        }
    )


def _grouping(tree: Mapping[str, Any]) -> Grouping:
    return Grouping(**{**tree, "costs": tuple((_material(one), cost) for one, cost in tree["costs"])})


def _material(tree: Mapping[str, Any]) -> Material:
    return Material(**{**tree, "part": Part(tree["part"])})


def _work(message: Compare, _: Callable[[Any], None]) -> Compared | NotCompared:
    from nesting.advice.compare import compare
    from nesting.errors import NestingError
    from nesting.exchange import read_request

    try:
        request = read_request(message.request, source="request")
        return Compared(write_comparison(compare(request, seed=message.seed, seconds=message.seconds)))
    except NestingError as why:
        return NotCompared(str(why))


def main() -> None:
    """Be such a process."""
    serve(_work, lambda _: False)
