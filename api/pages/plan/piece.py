"""Where one piece goes, and where it comes from."""

from __future__ import annotations

from dataclasses import dataclass

from nesting.domain.pieces import Piece
from nesting.domain.plan import Plan, Unplaced
from nesting.domain.status import Status
from nesting.reports.ends import ends_words
from nesting.reports.lengths import BothUnits
from nesting.reports.slope_words import lies_words
from nesting.reports.unverified import statuses
from nesting.reports.whereabouts import pieces_by_id, spots

_LEVELS = ("building", "floor", "unit", "room", "spot")


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceView:
    """
    One piece as a person asks for it.

    Parameters
    ----------
    place
        The known levels of where it goes: (level, name).
    facts
        What else is known of it: (what, value).
    siblings
        How many pieces its run has, itself included.
    bar, order
        The bar and the cut it comes from; 0 when the plan leaves it out.
    reason
        Why it is left out; empty when it is not.
    """

    id: str
    job: str
    run: str
    material: str
    place: tuple[tuple[str, str], ...]
    facts: tuple[tuple[str, str], ...]
    siblings: int
    bar: int
    order: int
    reason: str


def piece_view(plan: Plan, name: str, lengths: BothUnits) -> PieceView | None:
    """Say of a piece, by its id, where it goes and where it is cut; None when the plan has none such."""
    piece = pieces_by_id(plan).get(name)
    out = next((out for out in plan.unplaced if out.piece == name), None)
    if piece is None:
        return _left_out(out, lengths) if out else None
    spot = spots(plan).get(name)
    facts = [("length", lengths.both(piece.stop))]
    if not piece.mitred and piece.exact != piece.length:
        facts.append(("before rounding", lengths.both(piece.exact)))
    if piece.cover_length is not None:
        facts.append(("its cover", lengths.both(piece.cover_length)))
    if spot:
        facts.append(("far face", f"{lengths.both(spot.cut.face)} from the first clean face"))
        if lies := lies_words(spot.cut):
            facts.append(("on the bar", lies))
    if ends := ends_words(piece):
        facts.append(("ends", ends))
    facts += _identity(plan, piece)
    return PieceView(
        id=name,
        job=piece.job,
        run=piece.run,
        material=str(piece.material),
        place=tuple((level, text) for level in _LEVELS if (text := getattr(piece.place, level))),
        facts=tuple(facts),
        siblings=sum(1 for other in plan.pieces if (other.job, other.run) == (piece.job, piece.run)),
        bar=spot.bar.number if spot else 0,
        order=spot.order if spot else 0,
        reason=out.reason if out else "",
    )


def _left_out(out: Unplaced, lengths: BothUnits) -> PieceView:
    """Give what is known of a piece that was not even taken off."""
    return PieceView(
        id=out.piece,
        job=out.job,
        run=out.run,
        material="",
        place=(),
        facts=(("length", lengths.both(out.length)),),
        siblings=1,
        bar=0,
        order=0,
        reason=out.reason,
    )


def _identity(plan: Plan, piece: Piece) -> list[tuple[str, str]]:
    facts = []
    if piece.sections > 1:
        facts.append(("section", f"{piece.section} of {piece.sections}, jointed"))
    status = statuses(plan).get((piece.job, piece.run), Status.MEASURED)
    if status is not Status.MEASURED:
        facts.append(("size", f"{status.value}; do not cut it before it is measured"))
    return facts
