"""A channel and its cover of one id are told apart; other repetitions are left to be seen."""

from __future__ import annotations

from dataclasses import replace

from nesting.domain.material import Part
from nesting.domain.runs import PieceLine
from nesting.sheets.read_pieces import told_apart
from nesting.units import mm

CHANNEL = PieceLine(job="J1", id="P-1", family="F", length=mm(900))
COVER = replace(CHANNEL, part=Part.COVER, length=mm(880))


def test_a_channel_and_its_cover_are_told_apart() -> None:
    """Both lie under one mark in the list; the shop needs two labels."""
    assert [line.id for line in told_apart([CHANNEL, COVER])] == ["P-1", "P-1 cover"]
    assert [line.id for line in told_apart([COVER, CHANNEL])] == ["P-1 cover", "P-1"]


def test_other_repetitions_are_left_to_be_seen() -> None:
    """A row copied and not corrected must not become a second fixture in silence."""
    for lines in ([CHANNEL, CHANNEL], [COVER, COVER], [CHANNEL, COVER, COVER], [CHANNEL], [COVER]):
        assert told_apart(lines) == lines
    elsewhere = replace(COVER, job="J2")
    assert told_apart([CHANNEL, elsewhere]) == [CHANNEL, elsewhere]
