"""A bar of a released plan as JSON values: all that a report from the saw needs, without the plan."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from fractions import Fraction
from typing import Any

from nesting.domain.material import Material, Part
from nesting.domain.pieces import Piece
from nesting.domain.plan import Cut, GroupPlan, Plan, PlannedBar, TailFate
from nesting.domain.rules import SawRules
from nesting.money import NO_MONEY
from nesting.planning.group import stock_index
from nesting.planning.purchase import covers_listed, share_out
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
    plan: Plan, group: GroupPlan, bar: PlannedBar, pieces: Mapping[str, Piece], shelf: str, cover_shelf: str
) -> BarRecord:
    """Set out one bar of a plan."""
    own = [pieces[cut.piece] for cut in bar.cuts]
    weights: dict[str, int] = {}
    counts: dict[str, int] = {}
    for piece in own:
        weights[piece.job] = weights.get(piece.job, 0) + piece.length
        counts[piece.job] = counts.get(piece.job, 0) + 1
    returned = bar.tail if bar.fate is TailFate.OFFCUT else 0
    consumed = share_out(bar.length - returned, weights)
    cost = share_out(_cost(plan, group, bar), weights)
    return BarRecord(
        bar=bar,
        material=group.material,
        keep_length=group.saw.keep_length,
        shelf=shelf,
        cover_shelf=cover_shelf,
        covers={p.id: p.cover_length for p in own if p.cover_length is not None},
        jobs={p.id: p.job for p in own},
        shares={job: Share(counts[job], weights[job], consumed[job], cost[job]) for job in weights},
    )


def _cost(plan: Plan, group: GroupPlan, bar: PlannedBar) -> int:
    """Give what the bar costs, its cover included; 0 where prices are unknown."""
    if not group.priced:
        return 0
    index = stock_index(bar.source)
    if index is None:
        offcut = next((o for o in plan.request.offcuts if o.tag == bar.source), None)
        return int((offcut.value if offcut else None) or NO_MONEY)
    line = plan.request.stock[index]
    covers = covers_listed(plan.request, line.family, line.finish) if group.cover_follows else ()
    cover = next((c for c in covers if c.length == line.length), None)
    return int(line.price or NO_MONEY) + int((cover.price if cover else None) or NO_MONEY)


_KEPT = (
    *("number", "source", "offcut", "length", "head", "tail_loss", "strokes", "kerf_loss"),
    *("tail", "fate", "tail_tag", "sliver"),
)

_SLOPES = ("slope_start", "slope_end")


def to_json(record: BarRecord) -> dict[str, Any]:
    """Give a record as JSON values: of the bar what was planned, not what has happened to it."""
    values = asdict(record)
    planned = values["bar"]
    cuts = [cut | {name: str(cut[name]) for name in _SLOPES} for cut in planned["cuts"]]
    values["bar"] = {name: planned[name] for name in _KEPT} | {"cuts": cuts}
    return values


def from_json(values: Mapping[str, Any]) -> BarRecord:
    """Give the record of JSON values."""
    bar = dict(values["bar"])
    bar["cuts"] = tuple(
        Cut(**cut | {name: Fraction(cut[name]) for name in _SLOPES if name in cut}) for cut in bar["cuts"]
    )
    bar["fate"] = TailFate(bar["fate"])
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
