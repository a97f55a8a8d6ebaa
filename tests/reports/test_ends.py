"""Ends in words."""

from __future__ import annotations

from dataclasses import replace

import pytest

from nesting.domain.electrics import Feed
from nesting.domain.runs import EndCondition, Run
from nesting.reports.ends import ends_words, feed_words
from nesting.reports.lengths import BothUnits
from nesting.units import mm
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


RUN = Run(job="OY", id="OY-304-1", family="TOLV-17N", length=mm(1800))


@pytest.mark.parametrize(
    ("feed", "alone", "first", "middle", "last"),
    [
        (Feed.LEFT, "feed left", "feed left", "", ""),
        (Feed.RIGHT, "feed right", "", "", "feed right"),
        (Feed.BOTH, "feed both ends", "feed left", "", "feed right"),
        (Feed.THROUGH, "feed through", "feed left", "", "feed right"),
        (Feed.BACK, "feed back", *["run fed at the back"] * 3),
    ],
)
def test_the_feed_is_said_on_the_section_that_has_it(
    feed: Feed, alone: str, first: str, middle: str, last: str
) -> None:
    """Leads at the wrong end of a jointed run are a remake."""
    piece, run = PIECES["OY-304-1"], replace(RUN, feed=feed)
    assert feed_words(piece, run, BothUnits()) == alone
    sections = [replace(piece, section=number, sections=3) for number in (1, 2, 3)]
    assert [feed_words(one, run, BothUnits()) for one in sections] == [first, middle, last]


def test_a_back_exit_says_where_it_is_drilled() -> None:
    """300 from the left, as the list has it."""
    run = replace(RUN, feed=Feed.BACK, feed_at=mm(300))
    said = feed_words(PIECES["OY-304-1"], run, BothUnits())
    assert said.replace("\N{NO-BREAK SPACE}", " ") == "feed back, 300 mm from left"


def test_covers_have_no_feed() -> None:
    """Leads enter the channel."""
    assert feed_words(PIECES["OY-306-1c"], replace(RUN, feed=Feed.LEFT), BothUnits()) == ""
