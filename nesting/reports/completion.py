"""Which units are complete after which bar, and which fixtures are not because of what is left out."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Container, Mapping
from dataclasses import dataclass

from nesting.domain.pieces import Piece
from nesting.domain.plan import Plan, Unplaced
from nesting.domain.runs import NO_PLACE, PieceLine, Place, Run
from nesting.planning.open_units import completion
from nesting.reports.rooms import room_words, spread_jobs
from nesting.reports.whereabouts import bars_in_order, pieces_by_id, spots

_NAMED = 12


@dataclass(frozen=True, slots=True)
class UnitRow:
    """
    One unit of one job; pieces that name no unit share one a floor.

    Parameters
    ----------
    building
        Empty where the unit's name is enough.
    pieces
        Pieces the plan cuts for it.
    after
        Number of the bar after which it has them all; 0 when it has none.
    missing
        Pieces or runs of it that the plan leaves out.
    """

    job: str
    building: str
    floor: str
    unit: str
    pieces: int
    after: int
    missing: int

    @property
    def name(self) -> str:
        """Give the unit with its building, if that is needed to tell it apart; empty without a unit."""
        return ", ".join(p for p in (self.building, self.unit) if p) if self.unit else ""


Fixture = tuple[str, str, int]


def unit_rows(plan: Plan) -> tuple[UnitRow, ...]:
    """Give every unit of the plan, the one that is complete first in front, those never complete last."""
    known, rows_asked, spread = pieces_by_id(plan), _rows(plan), spread_jobs(plan)
    keys: dict[str, tuple[str, str, str, str]] = {}
    missing: Counter[str] = Counter()

    def name(job: str, place: Place) -> str:
        key = (job, place.building if job in spread else "", place.floor, place.unit)
        # A text that keeps the parts apart, for the functions that know units by name.
        text = "\x1f".join(key)
        keys[text] = key
        return text

    bars = bars_in_order(plan)
    held = [[name(known[c.piece].job, known[c.piece].place) for c in bar.good_cuts] for _, bar in bars]
    counts = Counter(unit for units in held for unit in units)
    for out in plan.unplaced:
        missing[name(out.job, _place(out, known, rows_asked))] += 1
    # Bars keep their numbers when a plan is planned again, so the numbers do not tell what comes first.
    place = completion(held)
    last = {unit: bars[at - 1][1].number for unit, at in place.items()}
    in_turn = sorted(keys, key=lambda text: (missing[text] > 0, place.get(text, 0), keys[text]))
    return tuple(UnitRow(*keys[text], counts[text], last.get(text, 0), missing[text]) for text in in_turn)


def units_words(plan: Plan) -> str:
    """Say how many units are complete, after which bars the first and the last; empty without units."""
    rows = [row for row in unit_rows(plan) if row.unit]
    done = [row.after for row in rows if not row.missing]
    if not rows:
        return ""
    said = f"{len(done)} of {len(rows)} units are complete with this plan"
    if len(rows) == 1:
        said = f"The unit is {'' if done else 'not '}complete with this plan"
    if len(done) > 1:
        return f"{said}, the first after bar {done[0]}, the last after bar {done[-1]}."
    return f"{said}, after bar {done[0]}." if done else f"{said}."


def fixture_words(plan: Plan) -> dict[Fixture, str]:
    """Say of each fixture (job, run, copy; copy 0: all of the run) that is left out how much of it is cut."""
    known, placed, rows, spread = pieces_by_id(plan), spots(plan), _rows(plan), spread_jobs(plan)
    pieces: defaultdict[Fixture, list[Piece]] = defaultdict(list)
    for piece in plan.pieces:
        pieces[piece.job, piece.run, piece.copy].append(piece)
    said: dict[Fixture, str] = {}
    for out in plan.unplaced:
        fixture = fixture_of(out, known)
        named, mine = _fixture(rows, fixture, spread), pieces.get(fixture, [])
        cut = sum(1 for piece in mine if piece.id in placed)
        if cut:
            said[fixture] = f"{named} stays incomplete: {cut} of its {len(mine)} pieces are cut"
        else:
            said[fixture] = f"{named} is not made"
    return said


def fixture_of(out: Unplaced, pieces: Mapping[str, Piece]) -> Fixture:
    """Give the fixture that something left out belongs to."""
    piece = pieces.get(out.piece)
    return (piece.job, piece.run, piece.copy) if piece else (out.job, out.run, 0)


def incomplete_words(plan: Plan) -> str:
    """Name the fixtures that cannot be finished because of what is left out; empty when none is."""
    said = list(fixture_words(plan).values())
    more = f"; and {len(said) - _NAMED} more" if len(said) > _NAMED else ""
    return f"Because of that: {'; '.join(said[:_NAMED])}{more}." if said else ""


def _place(
    out: Unplaced, pieces: Mapping[str, Piece], rows: Mapping[tuple[str, str], Run | PieceLine]
) -> Place:
    if out.piece in pieces:
        return pieces[out.piece].place
    row = rows.get((out.job, out.run))
    return row.place if row else NO_PLACE


def _fixture(
    rows: Mapping[tuple[str, str], Run | PieceLine], fixture: Fixture, spread: Container[str]
) -> str:
    job, run, copy = fixture
    row = rows.get((job, run))
    where = room_words(row.place, spread=job in spread) if row else ""
    quantity = row.quantity if row else 1
    several = f", copy {copy}" if copy and quantity > 1 else f", all {quantity}" if quantity > 1 else ""
    return f"fixture {run}{several}{f' ({where})' if where else ''}"


def _rows(plan: Plan) -> dict[tuple[str, str], Run | PieceLine]:
    rows: dict[tuple[str, str], Run | PieceLine] = {(run.job, run.id): run for run in plan.request.runs}
    return rows | {(line.job, line.id): line for line in plan.request.piece_lines}
