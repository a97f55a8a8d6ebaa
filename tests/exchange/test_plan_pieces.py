"""Pieces in a plan document stand under the trade's words, each fault at its place."""

from __future__ import annotations

from typing import Any

import pytest

from nesting.exchange.plan_pieces import PiecePart
from tests.exchange.changed_plan import PLAN, faults


@pytest.mark.parametrize(
    ("path", "value", "code", "at"),
    [
        ("/pieces/0/material/part", "lid", "not-a-choice", "/pieces/0/material/part"),
        ("/pieces/0/copy", "1", "not-a-whole-number", "/pieces/0/copy"),
        ("/pieces/0/left", "round", "not-a-choice", "/pieces/0/left"),
    ],
)
def test_each_fault_is_refused_at_its_place(path: str, value: Any, code: str, at: str) -> None:
    """A piece read as another one would be labelled for the wrong fixture."""
    assert (code, at) in faults(path, value)


def test_a_piece_is_written_under_the_trade_s_words() -> None:
    """``copy`` is a taken name in the document's class, not in the document."""
    piece = PLAN.pieces[0]
    tree = PiecePart.tree(piece)
    assert (tree["copy"], tree["length_nm"]) == (piece.copy, piece.length)
    assert "copy_" not in tree
    assert PiecePart.model_validate(tree).to_domain() == piece
