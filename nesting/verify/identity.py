"""Whether every piece is cut exactly once, at its length, from its material."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from nesting.domain.pieces import Piece
from nesting.domain.plan import Plan
from nesting.verify.violation import Violation, in_mm
from nesting.verify.walk import name_of


def identity_violations(plan: Plan) -> Iterator[Violation]:
    """Give the pieces that are lost, cut twice, cut and left out, wrong in length or material."""
    listed: dict[str, Piece] = {}
    for piece in plan.pieces:
        if piece.id in listed:
            yield Violation(
                "piece-listed-twice", f"piece {piece.id}", f"Piece {piece.id} is listed more than once."
            )
        listed[piece.id] = piece
    cut: Counter[str] = Counter()
    yield from _cut(plan, listed, cut)
    left_out: Counter[str] = Counter()
    yield from _left_out(plan, listed, left_out)
    for key in listed:
        where = f"piece {key}"
        if cut[key] and left_out[key]:
            yield Violation("cut-and-unplaced", where, f"Piece {key} is cut and also left out.")
        elif not cut[key] and not left_out[key]:
            yield Violation("piece-lost", where, f"Piece {key} is neither cut nor left out.")


def _cut(plan: Plan, listed: dict[str, Piece], seen: Counter[str]) -> Iterator[Violation]:
    for group in plan.groups:
        for bar in group.bars:
            spoiled = {one.piece for one in bar.spoiled}
            for cut in bar.cuts:
                where = f"piece {cut.piece}"
                name = name_of(group, bar)
                # A piece that came out wrong is asked for again: that cut gave nothing.
                seen[cut.piece] += cut.piece not in spoiled
                piece = listed.get(cut.piece)
                if piece is None:
                    yield Violation("unknown-piece", where, f"{name}: nobody asked for piece {cut.piece}.")
                    continue
                if seen[cut.piece] == 2 and cut.piece not in spoiled:
                    yield Violation("cut-twice", where, f"{name}: piece {cut.piece} is cut a second time.")
                if cut.length != piece.length:
                    yield Violation(
                        "cut-length",
                        where,
                        f"{name}: {cut.piece} is cut at {in_mm(cut.length)}, it has to be "
                        f"{in_mm(piece.length)}.",
                    )
                if piece.material != group.material:
                    yield Violation(
                        "piece-material", where, f"{name}: {cut.piece} has to be cut from {piece.material}."
                    )


def _left_out(plan: Plan, listed: dict[str, Piece], seen: Counter[str]) -> Iterator[Violation]:
    runs = {(piece.job, piece.run) for piece in plan.pieces}
    whole: Counter[tuple[str, str]] = Counter()
    for unplaced in plan.unplaced:
        where = f"piece {unplaced.piece}" if unplaced.piece else f"run {unplaced.run}"
        if not unplaced.reason:
            yield Violation(
                "no-reason", where, f"{where[0].upper()}{where[1:]} is left out without a reason."
            )
        if not unplaced.piece:
            whole[unplaced.job, unplaced.run] += 1
            if whole[unplaced.job, unplaced.run] == 2:
                yield Violation("unplaced-twice", where, f"Run {unplaced.run} is left out twice.")
            if (unplaced.job, unplaced.run) in runs:
                yield Violation(
                    "cut-and-unplaced", where, f"Run {unplaced.run} is left out whole, yet has pieces listed."
                )
            continue
        seen[unplaced.piece] += 1
        if seen[unplaced.piece] == 2:
            yield Violation("unplaced-twice", where, f"Piece {unplaced.piece} is left out twice.")
        piece = listed.get(unplaced.piece)
        if piece is None:
            yield Violation(
                "unknown-piece", where, f"Piece {unplaced.piece} is left out, but nobody asked for it."
            )
        elif (unplaced.job, unplaced.run, unplaced.length) != (piece.job, piece.run, piece.length):
            yield Violation(
                "unplaced-differs",
                where,
                f"Piece {piece.id} is left out as run {unplaced.run} of job {unplaced.job}, "
                f"{in_mm(unplaced.length)}; it is run {piece.run} of job {piece.job}, "
                f"{in_mm(piece.length)}.",
            )
