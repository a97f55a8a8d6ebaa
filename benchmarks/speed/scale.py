"""Seconds of one group against its distinct lengths, its pieces and the fineness of its lengths."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from benchmarks.cases.shop import MILLIMETRE, SIXTY_FOURTH, TENTH, shop_group, wide_group
from benchmarks.engine import Engine, ours
from nesting.domain.problem import Problem


@dataclass(frozen=True, slots=True, kw_only=True)
class Point:
    """
    One measured size.

    Parameters
    ----------
    axis
        What grows, one of ``AXES``.
    label, size
        The size as text, and where it lies on the axis.
    """

    axis: str
    label: str
    size: float
    seconds: float
    cost: int
    bound: int
    ended: str


AXES = ("distinct lengths", "pieces", "ruler", "lengths, two of each")


def steps() -> Iterator[tuple[str, str, float, Problem]]:
    """Give axis, label, size and problem of every point; 6 m bars, kerf 3 mm."""
    for lengths in (25, 50, 100, 200, 400, 800, 1_000):
        yield AXES[0], str(lengths), lengths, shop_group(lengths, 5 * lengths)
    for pieces in (100, 1_000, 10_000, 100_000):
        yield AXES[1], str(pieces), pieces, shop_group(40, pieces)
    rulers = {
        "1 mm": (MILLIMETRE,),
        "0.1 mm": (TENTH,),
        "1/64 in": (SIXTY_FOURTH,),
        "0.1 mm and 1/64 in": (TENTH, SIXTY_FOURTH),
    }
    for number, (label, ruler) in enumerate(rulers.items(), start=1):
        yield AXES[2], label, number, shop_group(60, 600, steps=ruler)
    for lengths in (125, 250, 500, 1_000):
        yield AXES[3], str(lengths), lengths, wide_group(lengths)


def measure_scale(
    *, time_limit: float, engine: Engine = ours, say: Callable[[str], None] = lambda text: None
) -> tuple[Point, ...]:
    """Give every point, solved warm in this process under the limit in seconds."""
    engine(shop_group(60, 1_160, seed=0), seed=1, time_limit=time_limit)
    points = []
    for axis, label, size, problem in steps():
        started = time.perf_counter()
        result = engine(problem, seed=1, time_limit=time_limit)
        points.append(
            Point(
                axis=axis,
                label=label,
                size=size,
                seconds=round(time.perf_counter() - started, 4),
                cost=result.cost,
                bound=result.bound,
                ended=result.ended.value,
            )
        )
        say(f"{axis} {label}: {points[-1].seconds} s, {result.cost} bars, bound {result.bound}")
    return tuple(points)
