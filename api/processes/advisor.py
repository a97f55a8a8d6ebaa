"""The process that compares what else could be bought; a building takes seconds to minutes of it."""

from __future__ import annotations

import json
import threading
import time
from collections.abc import Callable, Mapping, Sequence
from dataclasses import asdict, dataclass
from typing import Any

from api.processes.child import serve
from nesting.advice.comparison import Choice, Comparison, CoverChoice, Grouping, Mix
from nesting.domain.material import CoverMode, Material, Part
from nesting.domain.plan import Plan
from nesting.units import Length


@dataclass(frozen=True, slots=True)
class Compare:
    """A plan's request and result to compare purchases for, its seed, and the seconds it may take."""

    request: str
    result: str
    seed: int
    seconds: float


@dataclass(frozen=True, slots=True)
class Compared:
    """The comparison, and how much the sizes may grow, as documents."""

    document: str
    growth: str


@dataclass(frozen=True, slots=True)
class Growth:
    """
    How much every run of a material may grow at no more cost.

    Parameters
    ----------
    material
        The material's name.
    cost
        What the next step of growth would cost; None when no end was found.
    """

    material: str
    growth: Length
    cost: int | None


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


def write_growth(growth: Sequence[Growth]) -> str:
    """Give growth margins as JSON text; ``read_growth`` gives the same ones back."""
    return json.dumps([asdict(one) for one in growth])


def read_growth(text: str) -> tuple[Growth, ...]:
    """Give the growth margins of a JSON text that ``write_growth`` wrote."""
    return tuple(Growth(one["material"], Length(one["growth"]), one["cost"]) for one in json.loads(text))


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
    from nesting.exchange import read_plan, read_request

    until = time.monotonic() + message.seconds
    try:
        request = read_request(message.request, source="request")
        made = write_comparison(compare(request, seed=message.seed, seconds=message.seconds))
        growth = grown(read_plan(message.result), message.seed, until)
        return Compared(made, write_growth(growth))
    except NestingError as why:
        return NotCompared(str(why))


def grown(plan: Plan, seed: int, until: float) -> tuple[Growth, ...]:
    """
    Find how much the runs of each material may grow; those that time does not suffice for are left out.

    Parameters
    ----------
    until
        When to stop, by the monotonic clock.
    """
    from nesting.batch.growth import with_growth

    found = []
    for group in plan.groups:
        left = until - time.monotonic()
        if left <= 0:
            break
        margins = with_growth(plan.request, group, seed=seed, seconds=left, cancel=threading.Event())
        if margins is not None and margins.growth is not None:
            found.append(Growth(str(group.material), margins.growth, margins.growth_cost))
    return tuple(found)


def main() -> None:
    """Be such a process."""
    serve(_work, lambda _: False)
