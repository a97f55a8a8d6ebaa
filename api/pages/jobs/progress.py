"""How far each unit of a job is, across all the plans that have a part of it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from api.plans.states import BarState
from nesting.domain.pieces import Piece
from nesting.domain.plan import Plan
from nesting.domain.runs import NO_PLACE, Place
from nesting.reports.whereabouts import bars_in_order, pieces_by_id, spots

UnitKey = tuple[str, str, str]


class Fate(StrEnum):
    """Where a piece stands, the furthest first."""

    CUT = "cut"
    TO_CUT = "to cut"
    PROPOSED = "proposed"
    AGAIN = "to make again"
    LEFT_OUT = "left out"


_FURTHEST = {fate: place for place, fate in enumerate(Fate)}


@dataclass(frozen=True, slots=True, kw_only=True)
class BarNow:
    """How a bar of a released plan stands; ``spoiled`` are its pieces that were cut wrong."""

    state: BarState
    spoiled: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True, kw_only=True)
class Batch:
    """
    One plan with how its bars stand.

    Parameters
    ----------
    number
        Number of the plan, as people call it.
    closed
        Whether what it has not cut is another plan's now, or nobody's.
    bars
        By their numbers; empty for a plan that is not released.
    """

    id: str
    number: int
    plan: Plan
    closed: bool
    bars: Mapping[int, BarNow]


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceNow:
    """
    One piece of a unit: where it stands, in which plan, on which bar (0 for none), and why not.

    Parameters
    ----------
    turn
        Place of the bar in the order in which the plan's bars are cut; after a report not its number's.
    """

    fate: Fate
    plan: str
    number: int
    bar: int
    piece: str
    run: str
    place: Place
    length: int
    turn: int = 0
    why: str = ""


@dataclass(slots=True)
class UnitNow:
    """One unit of a job with all its pieces; pieces that name no unit share one a floor."""

    building: str
    floor: str
    unit: str
    pieces: list[PieceNow] = field(default_factory=list)

    def count(self, *fates: Fate) -> int:
        """Count the pieces that stand so."""
        return sum(one.fate in fates for one in self.pieces)

    @property
    def missing(self) -> tuple[PieceNow, ...]:
        """Pieces that no bar of any plan will give as things stand."""
        return tuple(one for one in self.pieces if one.fate in (Fate.AGAIN, Fate.LEFT_OUT))

    @property
    def complete(self) -> bool:
        """Whether every piece of it is cut."""
        return all(one.fate is Fate.CUT for one in self.pieces)

    @property
    def last(self) -> PieceNow | None:
        """The piece on the last bar that it waits for, or waited for; None when something is missing."""
        if self.missing:
            return None
        waiting = [one for one in self.pieces if one.fate is not Fate.CUT] or self.pieces
        return max(waiting, key=lambda one: (one.number, one.turn), default=None)


def units_of(job: str, batches: Iterable[Batch]) -> tuple[UnitNow, ...]:
    """
    Give the units of a job, floor by floor, with every piece's standing.

    A piece that several plans have, say because the list was planned twice, counts once: where it is
    furthest, and of equals in the later plan. What a closed plan has not cut is not its own any more.
    """
    found = [one for batch in batches for one in _pieces(job, batch)]
    found.sort(key=lambda one: (_FURTHEST[one.fate], -one.number))
    units: dict[UnitKey, UnitNow] = {}
    known: set[str] = set()
    for one in found:
        if (one.piece or one.run) in known:
            continue
        known |= {one.piece, one.run} - {""}
        key = (one.place.building, one.place.floor, one.place.unit)
        units.setdefault(key, UnitNow(*key)).pieces.append(one)
    return tuple(units[key] for key in sorted(units, key=lambda key: tuple(_natural(part) for part in key)))


def _pieces(job: str, batch: Batch) -> Iterator[PieceNow]:
    known, placed = pieces_by_id(batch.plan), spots(batch.plan)
    turn = {bar.number: at for at, (_, bar) in enumerate(bars_in_order(batch.plan))}
    for piece in known.values():
        if piece.job == job and piece.id in placed:
            number = placed[piece.id].bar.number
            fate = _fate(piece.id, batch, number)
            if fate is Fate.CUT or not batch.closed:
                yield _now(batch, piece, fate, number, turn[number])
    if batch.closed:
        return
    places = _places(batch.plan)
    for out in batch.plan.unplaced:
        if out.job == job:
            place = known[out.piece].place if out.piece in known else places.get(out.run, NO_PLACE)
            yield PieceNow(
                fate=Fate.LEFT_OUT,
                plan=batch.id,
                number=batch.number,
                bar=0,
                piece=out.piece,
                run=out.run,
                place=place,
                length=out.length,
                why=out.reason,
            )


def _fate(piece: str, batch: Batch, number: int) -> Fate:
    bar = batch.bars.get(number)
    if bar is None:
        return Fate.PROPOSED
    if bar.state is BarState.OPEN:
        return Fate.TO_CUT
    return Fate.CUT if bar.state is BarState.CUT and piece not in bar.spoiled else Fate.AGAIN


def _why(bar: BarNow | None) -> str:
    """Say why a piece must be made again."""
    if bar is None:
        return ""
    return {
        BarState.CUT: "it came out wrong",
        BarState.DEFECT: "its bar has a defect",
        BarState.MISSING: "its bar was not found",
    }.get(bar.state, "")


def _now(batch: Batch, piece: Piece, fate: Fate, bar: int, turn: int) -> PieceNow:
    return PieceNow(
        fate=fate,
        plan=batch.id,
        number=batch.number,
        bar=bar,
        piece=piece.id,
        run=piece.run,
        place=piece.place,
        length=piece.length,
        turn=turn,
        why=_why(batch.bars.get(bar)) if fate is Fate.AGAIN else "",
    )


def _places(plan: Plan) -> dict[str, Place]:
    """Give the place of every run; ids are unique in a job."""
    places = {run.id: run.place for run in plan.request.runs}
    return places | {line.id: line.place for line in plan.request.piece_lines}


def _natural(text: str) -> tuple[int, int, str]:
    """Sort numbers as numbers, before words."""
    return (0, int(text), "") if text.isascii() and text.isdecimal() else (1, 0, text)
