"""
Shop-like groups made from a seed: made-to-measure lengths on 6 m bars, kerf 3 mm, 8 mm off each end.

Lengths are drawn evenly between 300 and 3 300 mm, as runs over cabinets and along walls come out; repeats
are uneven, since plan types repeat and odd corners do not.
"""

from __future__ import annotations

import random
from pathlib import Path

from benchmarks.case import Case, CaseClass
from nesting.domain.problem import BarKind, Problem
from nesting.units import NM_PER_MM, Length, mm

# Distinct lengths and pieces, small shop order to whole building.
SIZES = ((8, 25), (15, 80), (25, 200), (40, 500), (60, 1_160))
MILLIMETRE = NM_PER_MM
TENTH = NM_PER_MM // 10
SIXTY_FOURTH = 396_875
"""One 64th of an inch in nanometres: 25.4 mm / 64 exactly."""


def shop_group(
    lengths: int,
    pieces: int,
    *,
    seed: int = 1,
    steps: tuple[int, ...] = (MILLIMETRE,),
    bar_mm: int = 6_000,
    span_mm: tuple[int, int] | None = None,
) -> Problem:
    """
    Give one group with so many distinct lengths and pieces.

    Parameters
    ----------
    steps
        Rulers the lengths are read on, nanometres a step; a length is drawn on each in turn.
    bar_mm
        Stock length in millimetres; the longest piece is at most just over half of it.
    span_mm
        Shortest and longest piece; None for a twentieth to just over half of the bar.

    Raises
    ------
    ValueError
        When there are fewer pieces than distinct lengths.
    """
    if pieces < lengths:
        raise ValueError(f"{lengths} distinct lengths need at least as many pieces, not {pieces}.")
    draw = random.Random(f"{seed}/{lengths}/{pieces}/{steps}/{bar_mm}" + (f"/{span_mm}" if span_mm else ""))
    if span_mm is None:
        shortest, longest = mm(bar_mm) // 20, mm(bar_mm) * 11 // 20
    else:
        shortest, longest = (int(mm(end)) for end in span_mm)
    chosen: set[int] = set()
    while len(chosen) < lengths:
        step = steps[len(chosen) % len(steps)]
        chosen.add(draw.randint(-(-shortest // step), longest // step) * step)
    counts = [1] * lengths
    # Squared draws favour few lengths: plan types repeat, odd corners do not.
    for _ in range(pieces - lengths):
        counts[int(lengths * draw.random() ** 2)] += 1
    draw.shuffle(counts)
    return Problem(
        name=f"{lengths} lengths, {pieces} pieces",
        lengths=tuple(Length(length) for length in sorted(chosen, reverse=True)),
        counts=tuple(counts),
        bars=(BarKind(key=str(bar_mm), length=mm(bar_mm), head=mm(8), tail=mm(8)),),
        kerf=mm(3),
    )


def wide_group(lengths: int, *, seed: int = 1) -> Problem:
    """
    Give a group of two pieces of each length on average, read to 0.1 mm, a sixth to half of a 6 m bar.

    Hardly any lengths repeat and few fit a bar, so neither sizes nor greedy plans settle it.
    """
    return shop_group(lengths, 2 * lengths, seed=seed, steps=(TENTH,), span_mm=(1_000, 3_000))


def _load(folder: Path) -> tuple[Case, ...]:
    return tuple(
        Case(name=problem.name, problem=problem)
        for problem in (shop_group(lengths, pieces) for lengths, pieces in SIZES)
    )


def _tiny() -> Case:
    return Case(name="tiny", problem=shop_group(3, 5))


CLASSES = (
    CaseClass(name="shop", source="made from a seed", licence="this project's", load=_load, tiny=_tiny),
)
