"""Ends in words."""

from __future__ import annotations

from dataclasses import replace

from nesting.domain.runs import EndCondition
from nesting.paper.ends import ends_words
from tests.reports.plans import example_plan

PIECES = {piece.id: piece for piece in example_plan().pieces}


def test_both_ends_are_said_left_first() -> None:
    """The holed cap is the feed's end; swapped it is a remake."""
    assert ends_words(PIECES["OY-304-1"]) == "left holed cap, right solid cap"
    assert ends_words(PIECES["OY-304-7/1"]) == "left solid cap, right joint"


def test_covers_and_bare_pieces_say_nothing() -> None:
    """A cover has no cap, and a piece list does not tell what becomes of its ends."""
    assert ends_words(PIECES["OY-306-1c"]) == ""
    bare = replace(PIECES["OY-304-1"], left=EndCondition.BARE, right=EndCondition.BARE)
    assert ends_words(bare) == ""
