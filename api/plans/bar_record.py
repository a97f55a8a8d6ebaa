"""A bar of a released plan as JSON values: all that a report from the saw needs, without the plan."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from fractions import Fraction
from typing import Any

from nesting.domain.made import BarState, Span, Spoiled, Zone
from nesting.domain.material import Material, Part
from nesting.domain.pieces import Piece
from nesting.domain.plan import Cut, GroupPlan, PlannedBar, TailFate
from nesting.domain.rules import SawRules
from nesting.planning.purchase import share_out
from nesting.units import NO_LENGTH, Length


@dataclass(frozen=True, slots=True)
class Share:
    """What one job has of a bar: pieces, their length, metal used up, money."""

    pieces: int
    good: int
    consumed: int
    cost: int


@dataclass(frozen=True, slots=True, kw_only=True)
class BarRecord:
    """
    One bar with what its report needs.

    Parameters
    ----------
    shelf, cover_shelf
        Ids of the shelves the bar and its cover come from; empty for an offcut, and where no cover
        bar is cut along.
    covers
        Length of the cover of each piece, when a cover is cut along.
    jobs
        Job of each piece.
    shares
        What each job has of the bar.
    """

    bar: PlannedBar
    material: Material
    keep_length: Length
    shelf: str = ""
    cover_shelf: str = ""
    covers: Mapping[str, Length]
    jobs: Mapping[str, str]
    shares: Mapping[str, Share]

    @property
    def saw(self) -> SawRules:
        """The saw's keep length, which is all that a report asks of it."""
        return SawRules(kerf=NO_LENGTH, keep_length=self.keep_length)


def bar_record(
    group: GroupPlan, bar: PlannedBar, pieces: Mapping[str, Piece], shelf: str, cover_shelf: str, cost: int
) -> BarRecord:
    """
    Set out one bar of a plan.

    Parameters
    ----------
    cost
        What the bar really costs, its cover included, in ten-thousandths; 0 where prices are unknown.
    """
    own = [pieces[cut.piece] for cut in bar.cuts]
    weights: dict[str, int] = {}
    counts: dict[str, int] = {}
    for piece in own:
        weights[piece.job] = weights.get(piece.job, 0) + piece.length
        counts[piece.job] = counts.get(piece.job, 0) + 1
    returned = bar.tail if bar.fate is TailFate.OFFCUT else 0
    consumed = share_out(bar.length - returned, weights)
    costs = share_out(cost, weights)
    return BarRecord(
        bar=bar,
        material=group.material,
        keep_length=group.saw.keep_length,
        shelf=shelf,
        cover_shelf=cover_shelf,
        covers={p.id: p.cover_length for p in own if p.cover_length is not None},
        jobs={p.id: p.job for p in own},
        shares={job: Share(counts[job], weights[job], consumed[job], costs[job]) for job in weights},
    )


_SLOPES = ("slope_start", "slope_end")


def to_json(record: BarRecord) -> dict[str, Any]:
    """Give a record as JSON values; ``from_json`` gives the same one back, field by field."""
    values = asdict(record)
    bar = values["bar"]
    bar["cuts"] = [cut | {name: str(cut[name]) for name in _SLOPES} for cut in bar["cuts"]]
    return values


def from_json(values: Mapping[str, Any]) -> BarRecord:
    """Give the record of JSON values, also of one kept before a bar had all the fields it has now."""
    bar = dict(values["bar"])
    bar["cuts"] = tuple(
        Cut(**cut | {name: Fraction(cut[name]) for name in _SLOPES if name in cut}) for cut in bar["cuts"]
    )
    bar["fate"] = TailFate(bar["fate"])
    bar["state"] = BarState(bar.get("state", BarState.OPEN))
    for name, kind in (("spoiled", Spoiled), ("defects", Span), ("zones", Zone)):
        bar[name] = tuple(kind(**one) for one in bar.get(name, ()))
    material = dict(values["material"])
    material["part"] = Part(material["part"])
    return BarRecord(
        bar=PlannedBar(**bar),
        material=Material(**material),
        keep_length=Length(values["keep_length"]),
        shelf=values["shelf"],
        cover_shelf=values["cover_shelf"],
        covers=values["covers"],
        jobs=values["jobs"],
        shares={job: Share(**share) for job, share in values["shares"].items()},
    )
