"""The runs of a plan with their pieces, and the bar each piece is cut from."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection
from dataclasses import dataclass

from api.pages.plan.choice import Choice
from nesting.domain.material import Material, Part
from nesting.domain.pieces import Piece
from nesting.domain.plan import Plan, Unplaced
from nesting.domain.runs import PieceLine, Run
from nesting.reports.lengths import BothUnits
from nesting.reports.rooms import room_words, spread_jobs
from nesting.reports.whereabouts import Spot, bars_in_order, spots

RUNS_A_PAGE = 50


@dataclass(frozen=True, slots=True, kw_only=True)
class RunPiece:
    """One piece of a run; bar 0 and a reason when it is left out or must be made again."""

    id: str
    part: str
    length: str
    bar: int
    order: int
    reason: str
    again: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class RunRow:
    """
    One run, or one line of a piece list.

    Parameters
    ----------
    asked
        The size that was asked for and what it measures.
    after
        Number of the bar after which all its pieces are cut; 0 while any is left out or to be made again.
    opened
        Whether its pieces are to be seen at once.
    """

    job: str
    id: str
    floor: str
    where: str
    quantity: int
    made_of: str
    asked: str
    pieces: tuple[RunPiece, ...]
    after: int
    opened: bool

    @property
    def again(self) -> int:
        """Pieces of it that must be made again."""
        return sum(piece.again for piece in self.pieces)


@dataclass(frozen=True, slots=True, kw_only=True)
class RunsPage:
    """One page of runs, of so many."""

    rows: tuple[RunRow, ...]
    page: int
    pages: int
    count: int


def runs_page(
    plan: Plan, choice: Choice, lengths: BothUnits, again: Collection[str] = frozenset()
) -> RunsPage:
    """
    Give one page of the runs that are looked for, in the order of the list they came from.

    Parameters
    ----------
    again
        Pieces that their bars do not give any more.
    """
    pieces: defaultdict[tuple[str, str], list[Piece]] = defaultdict(list)
    for piece in plan.pieces:
        pieces[piece.job, piece.run].append(piece)
    out: defaultdict[tuple[str, str], list[Unplaced]] = defaultdict(list)
    for one in plan.unplaced:
        out[one.job, one.run].append(one)
    asked: tuple[Run | PieceLine, ...] = (*plan.request.runs, *plan.request.piece_lines)
    chosen = [run for run in asked if _wanted(choice, run, pieces[run.job, run.id])]
    pages = max(-(-len(chosen) // RUNS_A_PAGE), 1)
    page = min(choice.page, pages)
    placed, spread = spots(plan), spread_jobs(plan)
    # A plan after a report may cut its bars in another order than that of their numbers.
    turn = {bar.number: at for at, (_, bar) in enumerate(bars_in_order(plan))}
    shown = chosen[(page - 1) * RUNS_A_PAGE : page * RUNS_A_PAGE]
    rows = tuple(
        _row(
            *(run, pieces[run.job, run.id], out[run.job, run.id], placed, again, lengths, turn),
            opened=bool(choice.run),
            spread=run.job in spread,
        )
        for run in shown
    )
    return RunsPage(rows=rows, page=page, pages=pages, count=len(chosen))


def _wanted(choice: Choice, run: Run | PieceLine, pieces: list[Piece]) -> bool:
    # A run that was not even taken off has no pieces; it still has to be found under its own name.
    materials = {piece.material for piece in pieces} or {Material(run.family, run.finish, Part.CHANNEL)}
    return any(choice.wants(run.job, run.place, material, run.id) for material in materials)


def _row(
    run: Run | PieceLine,
    pieces: list[Piece],
    out: list[Unplaced],
    placed: dict[str, Spot],
    again: Collection[str],
    lengths: BothUnits,
    turn: dict[int, int],
    *,
    opened: bool,
    spread: bool,
) -> RunRow:
    reasons = {one.piece: one.reason for one in out}
    rows = [
        _piece(piece, placed.get(piece.id), reasons.get(piece.id, ""), lengths, again=piece.id in again)
        for piece in pieces
    ]
    rows += [
        RunPiece(
            id=one.piece or one.run,
            part="",
            length=lengths.both(one.length),
            bar=0,
            order=0,
            reason=one.reason,
        )
        for one in out
        if one.piece not in {piece.id for piece in pieces}
    ]
    complete = bool(rows) and all(row.bar and not row.again for row in rows)
    kind = run.kind.value if isinstance(run, Run) else "cut length"
    return RunRow(
        job=run.job,
        id=run.id,
        floor=run.place.floor,
        where=room_words(run.place, spread=spread),
        quantity=run.quantity,
        made_of=" ".join(f"{run.family} {run.finish}".split()),
        asked=f"{lengths.both(run.length)} {kind}",
        pieces=tuple(rows),
        after=max((row.bar for row in rows), key=turn.__getitem__) if complete else 0,
        opened=opened,
    )


def _piece(piece: Piece, spot: Spot | None, reason: str, lengths: BothUnits, *, again: bool) -> RunPiece:
    return RunPiece(
        id=piece.id,
        part=piece.part.value,
        length=lengths.both(piece.stop),
        bar=spot.bar.number if spot else 0,
        order=spot.order if spot else 0,
        reason=reason,
        again=again,
    )
