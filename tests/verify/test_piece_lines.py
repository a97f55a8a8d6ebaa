"""The auditor counts lines of bare pieces, and names the one that was changed."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from nesting.domain.material import Part
from nesting.units import mm
from nesting.verify.piece_lines import piece_line_violations
from tests.verify.change import change, found
from tests.verify.small_plan import plan

PLAN = plan()


@pytest.mark.parametrize(
    ("path", "changes", "code", "where"),
    [
        ("request.piece_lines.0", {"quantity": 2}, "piece-missing", "run P"),
        ("request.piece_lines.0", {"length": mm(2201)}, "piece-length", "piece P"),
        ("request.piece_lines.0", {"part": Part.COVER}, "piece-material", "piece P"),
        ("pieces.13", {"copy": 2}, "piece-unasked", "piece P"),
        ("pieces.13", {"copy": 2}, "piece-missing", "run P"),
        ("pieces.13", {"length": mm(2201)}, "piece-length", "piece P"),
    ],
)
def test_one_change_is_named(path: str, changes: dict[str, Any], code: str, where: str) -> None:
    """Pieces that somebody took off by hand are cut as they were written."""
    assert (code, where) in found(change(PLAN, path, **changes))


def test_a_line_of_many_pieces_is_counted_once() -> None:
    """Number by number over all pieces, 100 000 of a kind would be ten thousand million looks."""
    line = PLAN.request.piece_lines[0]
    (piece,) = (piece for piece in PLAN.pieces if piece.run == line.id)
    many = replace(line, quantity=100_000)
    pieces = [replace(piece, id=f"P.{copy}", copy=copy) for copy in range(1, 100_001)]
    assert list(piece_line_violations(PLAN.request, many, pieces)) == []
    named = [v.message for v in piece_line_violations(PLAN.request, many, [*pieces[1:], pieces[1]])]
    assert named == [
        "Line P: number 1 of 100000 is listed 0 times.",
        "Line P: number 2 of 100000 is listed 2 times.",
    ]
