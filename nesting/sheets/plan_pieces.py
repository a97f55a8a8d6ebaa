"""Every piece with its bar, with the user's own columns returned."""

from __future__ import annotations

from nesting.domain.pieces import Piece
from nesting.domain.plan import Plan, Unplaced
from nesting.domain.request import Request
from nesting.domain.runs import NO_PLACE, PieceLine, Run
from nesting.domain.status import Status
from nesting.reports.slope_words import end_words
from nesting.reports.unverified import statuses
from nesting.reports.whereabouts import Spot, spots
from nesting.sheets.plan_book import Book
from nesting.sheets.plan_list import FIRST_ROW, Column, Kind, Value, write_list

VIEW_RULE = "Left and right as seen facing the lit face."

_COLUMNS = (
    Column("piece", 16),
    Column("job", 13),
    Column("building", 12),
    Column("floor", 6),
    Column("unit", 10),
    Column("room", 14),
    Column("spot", 17),
    Column("family", 11),
    Column("finish", 9),
    Column("part", 8),
    Column("lot", 8),
    Column("cut (mm)", 11, Kind.MM),
    Column("cut (inch)", 12, Kind.INCH),
    Column("cover (mm)", 11, Kind.MM),
    Column("bar", 6, Kind.COUNT),
    Column("cut no.", 6, Kind.COUNT),
    Column("not placed because", 24),
    # What follows is for the screen; the print ends here so that its type stays readable.
    Column("far face at (mm)", 12, Kind.MM),
    Column("exact (mm)", 12, Kind.MM),
    Column("exact (inch)", 13, Kind.INCH),
    Column("run", 14),
    Column("size is", 10),
    Column("left end", 11),
    Column("right end", 11),
    Column("from", 12),
    Column("note", 22),
)
_PRINTED = 17


def write_pieces(book: Book, plan: Plan) -> None:
    """Write one row per piece, and a row for every run that never became pieces."""
    lines = _lines(plan.request)
    headings = tuple(dict.fromkeys(heading for line in lines.values() for heading, _ in line.extra))
    ours = {column.heading for column in _COLUMNS}
    own = tuple(
        Column(f"{heading} (yours)" if heading.strip().lower() in ours else heading, 14)
        for heading in headings
    )
    where, sure = spots(plan), statuses(plan)
    left_out = {out.piece: out for out in plan.unplaced}
    rows = [
        (
            *_row(
                piece,
                where.get(piece.id),
                left_out.get(piece.id),
                sure.get((piece.job, piece.run), Status.MEASURED),
            ),
            *_own(lines.get((piece.job, piece.run)), headings),
        )
        for piece in plan.pieces
    ]
    known = {piece.id for piece in plan.pieces}
    rows += [
        (*_run_row(out, lines.get((out.job, out.run))), *_own(lines.get((out.job, out.run)), headings))
        for out in plan.unplaced
        if out.piece not in known
    ]
    sheet = write_list(
        book,
        "Pieces",
        "Pieces",
        f"Every piece once. {VIEW_RULE} "
        "~ is the nearest 1/64 inch; mm are exact, of mitred pieces the long point. More columns on screen.",
        (*_COLUMNS, *own),
        rows,
        nothing="No pieces.",
        small=True,
    )
    sheet.freeze_panes(FIRST_ROW, 1)
    sheet.print_area(0, 0, FIRST_ROW + max(len(rows), 1) - 1, _PRINTED - 1)


def _lines(request: Request) -> dict[tuple[str, str], Run | PieceLine]:
    runs: dict[tuple[str, str], Run | PieceLine] = {(run.job, run.id): run for run in request.runs}
    return runs | {(line.job, line.id): line for line in request.piece_lines}


def _row(piece: Piece, spot: Spot | None, out: Unplaced | None, status: Status) -> tuple[Value, ...]:
    place, material = piece.place, piece.material
    return (
        *(piece.id, piece.job, place.building, place.floor, place.unit, place.room, place.spot),
        *(material.family, material.finish, material.part.value, material.lot),
        *(piece.stop, piece.stop, piece.cover_length),
        *((spot.bar.number, spot.order) if spot else (None, None)),
        "" if spot else out.reason if out else "left out of the plan",
        *(spot.cut.face if spot else None, piece.exact, piece.exact),
        *(piece.run, status.value, *end_words(piece), str(piece.where)),
    )


def _run_row(out: Unplaced, line: Run | PieceLine | None) -> tuple[Value, ...]:
    place = line.place if line else NO_PLACE
    made_of = (line.family, line.finish) if line else _nothing(2)
    return (
        *(out.piece or out.run, out.job, place.building, place.floor, place.unit, place.room, place.spot),
        *(*made_of, *_nothing(2)),
        *(out.length, out.length, *_nothing(3)),
        out.reason,
        *(*_nothing(3), out.run, line.status.value if line else None, *_nothing(2), str(out.where)),
    )


def _nothing(count: int) -> tuple[None, ...]:
    return (None,) * count


def _own(line: Run | PieceLine | None, headings: tuple[str, ...]) -> tuple[Value, ...]:
    extra = dict(line.extra) if line else {}
    return (line.note if line else "", *(extra.get(heading, "") for heading in headings))
