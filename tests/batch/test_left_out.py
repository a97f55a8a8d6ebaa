"""A piece that is not cut says which one it is and why."""

from nesting.batch.left_out import left_out, unfinished, used_up
from nesting.units import mm
from tests.planning.groups import pieces_of


def test_a_piece_left_out_keeps_its_identity() -> None:
    """Job, run, piece, length and place in the list come from the piece itself."""
    (piece,) = pieces_of([mm(900)])
    out = left_out(piece, "too-long", "longer than any bar")
    assert (out.job, out.run, out.piece, out.length, out.where) == ("yard", "P1", "P1", mm(900), piece.where)
    assert (out.code, out.reason) == ("too-long", "longer than any bar")
    assert [used_up(piece).code, unfinished(piece).code] == ["stock-used-up", "fixture-short"]
