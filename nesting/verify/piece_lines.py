"""Whether the listed pieces of a piece list's line are what it asks for."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from nesting.domain.pieces import Piece
from nesting.domain.request import Request
from nesting.domain.runs import PieceLine
from nesting.verify.due import Due
from nesting.verify.supply import saw_of
from nesting.verify.violation import Violation, in_mm


def piece_line_violations(request: Request, line: PieceLine, pieces: Sequence[Piece]) -> Iterator[Violation]:
    """Give the pieces of a line that are missing, too many, of another material or of a wrong length."""
    due = Due(line.length, saw_of(request, line.part).step, down=False)
    listed = Counter(piece.copy for piece in pieces)
    for copy in range(1, line.quantity + 1):
        if listed[copy] != 1:
            yield Violation(
                "piece-unasked" if listed[copy] else "piece-missing",
                f"run {line.id}",
                f"Line {line.id}: number {copy} of {line.quantity} is listed {listed[copy]} times.",
            )
    for piece in pieces:
        where = f"piece {piece.id}"
        material = piece.material
        if not 1 <= piece.copy <= line.quantity:
            yield Violation(
                "piece-unasked", where, f"Piece {piece.id}: line {line.id} asks for {line.quantity} only."
            )
        if (material.family, material.finish, material.part) != (line.family, line.finish, line.part):
            yield Violation(
                "piece-material",
                where,
                f"Piece {piece.id} is of {material}; line {line.id} asks for {line.family} {line.finish} "
                f"{line.part.value}.",
            )
        if piece.exact != line.length or not due.allows(piece.length):
            yield Violation(
                "piece-length",
                where,
                f"Piece {piece.id}: {in_mm(piece.length)} is set, line {line.id} asks for "
                f"{in_mm(line.length)}.",
            )
