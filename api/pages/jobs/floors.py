"""The floors of a job: its units as rows, and after which bar each is complete."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from api.pages.environment import count
from api.pages.jobs.progress import Fate, UnitNow


@dataclass(frozen=True, slots=True, kw_only=True)
class UnitLine:
    """
    One unit as a row.

    Parameters
    ----------
    name
        The unit; "no unit named" for pieces that name none.
    said
        After which bar it is complete, or why not.
    plan, bar
        The bar that is named; empty and 0 where none is.
    """

    building: str
    floor: str
    unit: str
    name: str
    pieces: int
    cut: int
    to_come: int
    missing: int
    said: str
    plan: str
    bar: int


@dataclass(frozen=True, slots=True, kw_only=True)
class FloorLines:
    """
    The units of one floor, and how far they are together.

    Parameters
    ----------
    name, title
        The floor for a link and as a heading, with its building where the job goes into several.
    """

    building: str
    floor: str
    name: str
    title: str
    units: tuple[UnitLine, ...]
    said: str


def floors_of(units: Iterable[UnitNow], *, several: bool, spread: bool) -> tuple[FloorLines, ...]:
    """
    Give the units floor by floor.

    Parameters
    ----------
    several
        Whether several plans make them, so that a bar is named with its plan.
    spread
        Whether they are in several buildings, so that a floor is named with its building.
    """
    floors: dict[tuple[str, str], list[UnitNow]] = {}
    for one in units:
        floors.setdefault((one.building, one.floor), []).append(one)
    made = []
    for (building, floor), own in floors.items():
        cut = sum(one.count(Fate.CUT) for one in own)
        pieces = sum(len(one.pieces) for one in own)
        complete = sum(one.complete for one in own)
        said = f"{complete} of {count(len(own), 'unit')} complete, {cut} of {count(pieces, 'piece')} cut"
        named = [building or "no building"] if spread else []
        title = ", ".join([*named, f"floor {floor}" if floor else "no floor named"])
        made.append(
            FloorLines(
                building=building,
                floor=floor,
                name=", ".join([*named, floor or "no floor"]),
                title=title if building and spread else title[0].upper() + title[1:],
                units=tuple(_unit(one, several) for one in own),
                said=said,
            )
        )
    return tuple(made)


def _unit(one: UnitNow, several: bool) -> UnitLine:
    last = one.last
    return UnitLine(
        building=one.building,
        floor=one.floor,
        unit=one.unit,
        name=one.unit or "no unit named",
        pieces=len(one.pieces),
        cut=one.count(Fate.CUT),
        to_come=one.count(Fate.TO_CUT, Fate.PROPOSED),
        missing=len(one.missing),
        said=_when(one, several),
        plan=last.plan if last else "",
        bar=last.bar if last else 0,
    )


def _when(one: UnitNow, several: bool) -> str:
    """Say when a unit is complete: "after bar 17", with the plan where there are several."""
    last = one.last
    if last is None:
        return f"not yet, {count(len(one.missing), 'piece')} missing"
    bar = f"bar {last.bar} of plan P{last.number}" if several else f"bar {last.bar}"
    if one.complete:
        return f"since {bar}"
    return f"after {bar}, once released" if last.fate is Fate.PROPOSED else f"after {bar}"
