"""What can be read exactly and is hardly meant."""

from __future__ import annotations

import pytest

from nesting.domain.request import Request
from nesting.domain.rules import DEFAULT_SAW
from nesting.domain.runs import PieceLine
from nesting.errors import Where
from nesting.takeoff.plausible import MOST, MOST_PIECES, pieces_too_many, short_lines, unlikely_allowance
from nesting.units import mm


@pytest.mark.parametrize(("field", "value"), [("kerf", "0"), ("kerf", "10.1"), ("grip", "1001")])
def test_allowances_no_saw_has(field: str, value: str) -> None:
    """Inches taken for millimetres, or the other way round, show here first."""
    assert unlikely_allowance(field, mm(value))


@pytest.mark.parametrize("field", sorted(MOST))
def test_the_largest_allowance_still_passes(field: str) -> None:
    """Warnings that are always there are read by nobody."""
    assert unlikely_allowance(field, MOST[field]) == ""


def test_lines_too_short_to_be_meant() -> None:
    """20 mm passes, 12 mm is told with what is left of it."""
    lines = tuple(
        PieceLine(job="J", id=f"L{n}", family="F", length=mm(n), where=Where("a", f"/{n}")) for n in (12, 20)
    )
    (short,) = short_lines(Request(piece_lines=lines, saw=DEFAULT_SAW))
    assert (short.where.at, short.sawn) == ("/12", mm(12))
    assert short.words == "Read as 12 mm (~15/32 in), which leaves 12 mm to saw."


def test_pieces_are_counted_over_all_lines() -> None:
    """The most are still planned; one more is told with the number that was asked for."""
    line = PieceLine(job="J", id="A", family="F", length=mm(900), quantity=MOST_PIECES)
    one = PieceLine(job="J", id="B", family="F", length=mm(900))
    assert pieces_too_many(Request(piece_lines=(line,), saw=DEFAULT_SAW)) == 0
    assert pieces_too_many(Request(piece_lines=(line, one), saw=DEFAULT_SAW)) == MOST_PIECES + 1
