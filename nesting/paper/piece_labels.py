"""A label for every piece, in the order of the cut sheets, so that the next label is the next piece's."""

from __future__ import annotations

from pathlib import Path

from nesting.domain.material import Part
from nesting.domain.pieces import Piece
from nesting.domain.plan import Plan, PlannedBar
from nesting.paper.codes import code_text
from nesting.paper.faces import Face
from nesting.paper.label import Label, LabelLine, print_labels
from nesting.paper.label_grid import LabelGrid
from nesting.paper.lots import lot_words
from nesting.paper.page_size import PageSize
from nesting.paper.saw_order import cuts_in_order
from nesting.reports.ends import ends_words, feed_words
from nesting.reports.lengths import BothUnits
from nesting.reports.rooms import spread_jobs
from nesting.reports.unverified import MARK, unverified
from nesting.reports.whereabouts import pieces_by_id


def piece_labels(plan: Plan, lengths: BothUnits) -> tuple[Label, ...]:
    """Give one label per piece still to be cut; it names unit and room, never who lives there."""
    pieces, marked, spread = pieces_by_id(plan), unverified(plan), spread_jobs(plan)
    feeds = _feeds(plan, lengths)
    return tuple(
        _label(
            plan,
            pieces[cut.piece],
            bar,
            order,
            lengths,
            feed=feeds.get(cut.piece, ""),
            verify=cut.piece in marked,
            spread=pieces[cut.piece].job in spread,
        )
        for bar, order, cut in cuts_in_order(plan)
    )


def write_piece_labels(path: Path, plan: Plan, lengths: BothUnits, page: PageSize, grid: LabelGrid) -> int:
    """Write the pieces' labels; gives the number of pages."""
    return print_labels(path, page, grid, piece_labels(plan, lengths), f"Piece labels, plan {plan.id}")


def _feeds(plan: Plan, lengths: BothUnits) -> dict[str, str]:
    """Give the feed of every piece that has one; a run without strip has one only when its list says so."""
    lit = {(strip.job, strip.run) for strip in plan.strips}
    fed = {(run.job, run.id): run for run in plan.request.runs if run.feed or (run.job, run.id) in lit}
    return {
        piece.id: feed_words(piece, fed[piece.job, piece.run], lengths)
        for piece in plan.pieces
        if (piece.job, piece.run) in fed
    }


def _label(
    plan: Plan,
    piece: Piece,
    bar: PlannedBar,
    order: int,
    lengths: BothUnits,
    *,
    feed: str,
    verify: bool,
    spread: bool,
) -> Label:
    place, material = piece.place, piece.material
    length = lengths.first(piece.stop)
    where = " · ".join(p for p in (place.room, place.spot) if p)
    building = place.building if spread or not place.unit else ""
    floor = f"floor {place.floor}" if place.floor else ""
    cover = f", cover {lengths.first(piece.cover_length)}" if piece.cover_length is not None else ""
    what = " ".join(p for p in (material.family, material.finish) if p)
    part = "COVER " if material.part is Part.COVER else ""
    return Label(
        beside=(
            LabelLine(piece.id, 6.0, 15, Face.CODE, 2),
            LabelLine(" · ".join(p for p in (building, place.unit, floor) if p), 4.5, 12, Face.BOLD, 2),
            LabelLine(where, 4.2, 11, Face.PLAIN, 2),
            LabelLine(f"{MARK} {length}" if verify else length, 5.2, 15, Face.BOLD),
            LabelLine(f"{lengths.second(piece.stop)}{cover}", 3.4, 8.5),
        ),
        below=(
            LabelLine(f"{part}{what}, {lot_words(plan, bar, material)}", 3.5, 9, Face.BOLD),
            LabelLine(", ".join(p for p in (ends_words(piece), feed) if p), 3.0, 8),
            # A line of its own: beside plan and bar a long job would be too small to read.
            LabelLine(f"job {piece.job}", 3.0, 8, lines=2),
            LabelLine(f"plan {plan.id} · bar {bar.number} cut {order}", 2.8, 7),
        ),
        code=code_text(piece.id, plan.id),
    )
