"""Covers cut together with their channels, or on their own: bars and money of each way."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from nesting.advice.comparison import CoverChoice
from nesting.advice.solving import Solver, covers_ordered, ordered
from nesting.batch.split import split
from nesting.domain.material import CoverMode, Family, Part
from nesting.domain.request import Request
from nesting.errors import ProblemError
from nesting.planning.supply import covers_listed
from nesting.takeoff.take_off import take_off

MODES = (CoverMode.FLUSH, CoverMode.OFFSET, CoverMode.SEPARATE)


def cover_choices(request: Request, solver: Solver) -> Iterator[CoverChoice]:
    """
    Give every way in which each family's covers can be cut, where cover bars are sold apart.

    A cap with a nose rules out cutting flush, play rules out cutting together at all.
    """
    for family, finish in _covered(request):
        for mode in MODES:
            choice = _choice(request, family, finish, mode, solver)
            if choice is not None:
                yield choice


def questions(request: Request) -> int:
    """Give about how many groups the ways to cut covers pose: channels of each, covers on their own."""
    return (len(MODES) + 1) * len(list(_covered(request)))


def _covered(request: Request) -> Iterator[tuple[Family, str]]:
    """Give every family and finish whose cover bars are sold apart."""
    for family in request.families:
        finishes = sorted({run.finish for run in request.runs if run.family == family.name})
        if family.cover_mode is CoverMode.NONE:
            continue
        for finish in finishes:
            if covers_listed(request, family.name, finish):
                yield family, finish


def _choice(
    request: Request, family: Family, finish: str, mode: CoverMode, solver: Solver
) -> CoverChoice | None:
    try:
        changed = replace(family, cover_mode=mode)
    except ProblemError:
        return None
    asked = replace(
        request,
        runs=tuple(r for r in request.runs if (r.family, r.finish) == (family.name, finish)),
        piece_lines=(),
        families=(changed,),
    )
    taken_off = take_off(asked)
    parts = split(asked, taken_off.pieces)
    if parts.unplaced or taken_off.unplaced:
        return None
    channels = covers = cost = bound = 0
    proved = priced = True
    for chain in parts.chains:
        for group in chain:
            settled = solver.settle(group)
            if settled.result.short:
                return None
            if group.material.part is Part.COVER:
                covers += ordered(settled)
            else:
                channels += ordered(settled)
                covers += covers_ordered(settled)
            cost += settled.result.cost
            bound += settled.result.bound
            proved = proved and settled.result.proved
            priced = priced and group.priced
    return CoverChoice(
        family=family.name,
        finish=finish,
        mode=mode,
        channels=channels,
        covers=covers,
        cost=cost,
        proved=proved,
        bound=None if proved else bound,
        priced=priced,
    )
