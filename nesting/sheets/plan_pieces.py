"""Every piece with its bar, and the strip of every run, with the user's own columns returned."""

from __future__ import annotations

from nesting.domain.material import Part
from nesting.domain.pieces import Piece
from nesting.domain.plan import Plan, Unplaced
from nesting.domain.request import Request
from nesting.domain.runs import PieceLine, Run
from nesting.reports.whereabouts import Spot, spots
from nesting.sheets.plan_book import Book
from nesting.sheets.plan_list import FIRST_ROW, Column, Kind, Value, write_list
from nesting.units import mm_text

VIEW_RULE = "Left and right as seen facing the lit face."

_COLUMNS = (
    Column("piece", 18),
    Column("job", 10),
    Column("floor", 7),
    Column("unit", 12),
    Column("room", 14),
    Column("spot", 12),
    Column("family", 12),
    Column("finish", 10),
    Column("part", 9),
    Column("lot", 9),
    Column("cut (mm)", 12, Kind.MM),
    Column("cut (inch)", 13, Kind.INCH),
    Column("cover (mm)", 12, Kind.MM),
    Column("bar", 6, Kind.COUNT),
    Column("cut no.", 6, Kind.COUNT),
    Column("not placed because", 24),
    # What follows is for the screen; the print ends here so that its type stays readable.
    Column("far face at (mm)", 12, Kind.MM),
    Column("exact (mm)", 12, Kind.MM),
    Column("exact (inch)", 13, Kind.INCH),
    Column("run", 14),
    Column("left end", 11),
    Column("right end", 11),
    Column("from", 12),
    Column("note", 22),
)
_PRINTED = 16


def write_pieces(book: Book, plan: Plan) -> None:
    """Write one row per piece, and a row for every run that never became pieces."""
    lines = _lines(plan.request)
    headings = tuple(dict.fromkeys(heading for line in lines.values() for heading, _ in line.extra))
    ours = {column.heading for column in _COLUMNS}
    own = tuple(
        Column(f"{heading} (yours)" if heading.strip().lower() in ours else heading, 14)
        for heading in headings
    )
    where = spots(plan)
    left_out = {out.piece: out for out in plan.unplaced}
    rows = [
        (
            *_row(piece, where.get(piece.id), left_out.get(piece.id)),
            *_own(lines.get((piece.job, piece.run)), headings),
        )
        for piece in plan.pieces
    ]
    known = {piece.id for piece in plan.pieces}
    rows += [
        (*_run_row(out), *_own(lines.get((out.job, out.run)), headings))
        for out in plan.unplaced
        if out.piece not in known
    ]
    sheet = write_list(
        book,
        "Pieces",
        "Pieces",
        f"Every piece once. {VIEW_RULE} ~ is the nearest 1/64 inch; mm are exact. More columns on screen.",
        (*_COLUMNS, *own),
        rows,
        nothing="No pieces.",
    )
    sheet.freeze_panes(FIRST_ROW, 1)
    sheet.print_area(0, 0, FIRST_ROW + max(len(rows), 1) - 1, _PRINTED - 1)


def write_strips(book: Book, plan: Plan) -> None:
    """Write the strip of every run: whole marks, length, what stays dark, what one more mark would take."""
    # Plans older than the channel's length in a strip: the pieces of undivided runs still know it.
    whole = {(p.job, p.run): p.exact for p in plan.pieces if p.part is Part.CHANNEL and p.sections == 1}
    rows: list[tuple[Value, ...]] = []
    for strip in plan.strips:
        channel = strip.channel or whole.get((strip.job, strip.run), strip.for_next_mark)
        more = strip.for_next_mark - channel
        advice = f"+{mm_text(more)} mm of channel gains one more mark" if more > 0 else ""
        rows.append(
            (
                strip.job,
                strip.run,
                strip.quantity,
                strip.marks,
                strip.circuits,
                " + ".join(str(part) for part in strip.parts or (strip.marks,)),
                strip.length,
                strip.length,
                strip.dark,
                strip.for_next_mark,
                advice,
            )
        )
    write_list(
        book,
        "Strips",
        "Strips",
        "Cut on marks only. Dark: channel inside the caps without strip.",
        (
            Column("job", 12),
            Column("run", 18),
            Column("fixtures", 10, Kind.COUNT),
            Column("marks", 8, Kind.COUNT),
            Column("circuits", 9, Kind.COUNT),
            Column("pieces (marks)", 14),
            Column("strip (mm)", 14, Kind.MM),
            Column("strip (inch)", 14, Kind.INCH),
            Column("dark (mm)", 14, Kind.MM),
            Column("channel for one more mark (mm)", 16, Kind.MM),
            Column("advice", 38),
        ),
        rows,
        nothing="No strip in this plan.",
    )


def _lines(request: Request) -> dict[tuple[str, str], Run | PieceLine]:
    runs: dict[tuple[str, str], Run | PieceLine] = {(run.job, run.id): run for run in request.runs}
    return runs | {(line.job, line.id): line for line in request.piece_lines}


def _row(piece: Piece, spot: Spot | None, out: Unplaced | None) -> tuple[Value, ...]:
    place, material = piece.place, piece.material
    return (
        *(piece.id, piece.job, place.floor, place.unit, place.room, place.spot),
        *(material.family, material.finish, material.part.value, material.lot),
        *(piece.length, piece.length, piece.cover_length),
        *((spot.bar.number, spot.order) if spot else (None, None)),
        "" if spot else out.reason if out else "left out of the plan",
        *(spot.cut.face if spot else None, piece.exact, piece.exact),
        *(piece.run, piece.left.value, piece.right.value, str(piece.where)),
    )


def _run_row(out: Unplaced) -> tuple[Value, ...]:
    return (
        *(out.piece or out.run, out.job, *_nothing(8)),
        *(out.length, out.length, *_nothing(3)),
        out.reason,
        *(*_nothing(3), out.run, *_nothing(2), str(out.where)),
    )


def _nothing(count: int) -> tuple[None, ...]:
    return (None,) * count


def _own(line: Run | PieceLine | None, headings: tuple[str, ...]) -> tuple[Value, ...]:
    extra = dict(line.extra) if line else {}
    return (line.note if line else "", *(extra.get(heading, "") for heading in headings))
