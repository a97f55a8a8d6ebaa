"""Which bars and runs of a plan a person wants to see: filters that live in the address."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Any
from urllib.parse import urlencode

from nesting.domain.material import Material
from nesting.domain.plan import Plan
from nesting.domain.runs import Place
from nesting.reports.answer import materials_of

MOST_OPTIONS = 150


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """
    What is looked for; an empty text leaves all.

    Parameters
    ----------
    piece, bar
        A piece or a bar that is pointed at; it changes what is marked, not what is listed.
    run
        A run that is pointed at, with its job.
    page
        Page of the list, from 1.
    """

    job: str = ""
    building: str = ""
    floor: str = ""
    unit: str = ""
    material: str = ""
    piece: str = ""
    bar: int = 0
    run: str = ""
    page: int = 1

    @property
    def narrows(self) -> bool:
        """Whether anything but all is asked for."""
        return bool(self.job or self.building or self.floor or self.unit or self.material or self.run)

    def wants(self, job: str, place: Place, material: Material, run: str = "") -> bool:
        """Whether what has this job, place, material and run is among what is looked for."""
        return (
            (not self.job or job == self.job)
            and (not self.building or place.building == self.building)
            and (not self.floor or place.floor == self.floor)
            and (not self.unit or place.unit == self.unit)
            and (not self.material or str(material) == self.material)
            and (not self.run or run == self.run)
        )

    def address(self, **changes: Any) -> str:
        """Give the query of the same choice with some parts changed: ``?floor=3&page=2``, or empty."""
        # Pointing at something, or another page, is said anew by every link.
        new = replace(self, **{"piece": "", "bar": 0, "page": 1, **changes})
        given = {
            "job": new.job,
            "building": new.building,
            "floor": new.floor,
            "unit": new.unit,
            "material": new.material,
            "run": new.run,
            "piece": new.piece,
            "bar": new.bar or "",
            "page": new.page if new.page > 1 else "",
        }
        words = urlencode({name: value for name, value in given.items() if value != ""})
        return f"?{words}" if words else ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Filter:
    """
    One filter of a list.

    Parameters
    ----------
    options
        What may be chosen; empty where there are too many to list, then it is typed.
    """

    name: str
    label: str
    value: str
    options: tuple[str, ...]


def filters(plan: Plan, choice: Choice) -> tuple[Filter, ...]:
    """
    Give the filters that divide anything, with the values that go together with the wider ones chosen.

    Job, building, floor and unit narrow each other in this order; a filter that would offer a single value is
    left out unless it is set.
    """
    placed = [(piece.job, piece.place) for piece in plan.pieces]
    buildings = [place for job, place in placed if choice.job in ("", job)]
    floors = [place for place in buildings if choice.building in ("", place.building)]
    units = [place for place in floors if choice.floor in ("", place.floor)]
    offered = (
        ("job", "Job", choice.job, _sorted(job for job, _ in placed)),
        ("building", "Building", choice.building, _sorted(place.building for place in buildings)),
        ("floor", "Floor", choice.floor, _sorted(place.floor for place in floors)),
        ("unit", "Unit", choice.unit, _sorted(place.unit for place in units)),
        ("material", "Material", choice.material, tuple(str(one) for one in materials_of(plan))),
    )
    return tuple(
        Filter(name=name, label=label, value=value, options=options if len(options) <= MOST_OPTIONS else ())
        for name, label, value, options in offered
        if len(options) > 1 or value
    )


def choice_words(choice: Choice) -> str:
    """Say what is looked for: ``floor 3, unit 305``; empty for everything."""
    parts = (
        ("job", choice.job),
        ("building", choice.building),
        ("floor", choice.floor),
        ("unit", choice.unit),
        ("", choice.material),
        ("run", choice.run),
    )
    return ", ".join(f"{name} {value}".strip() for name, value in parts if value)


def _sorted(values: Iterable[str]) -> tuple[str, ...]:
    """Give the values that are not empty, numbers in the order of numbers."""
    return tuple(sorted({value for value in values if value}, key=_natural))


def _natural(text: str) -> tuple[int, int, str]:
    return (0, int(text), text) if text.isdecimal() else (1, 0, text)
