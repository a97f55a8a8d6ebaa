"""A report from the shop that contradicts itself is refused before anything is planned on it."""

from __future__ import annotations

import pytest

from nesting.domain.made import BarState, Span, over_measure
from nesting.domain.report import BarReport, Miscut, Outcome, ShopReport
from nesting.errors import ProblemError
from nesting.units import NO_LENGTH, Length, mm


@pytest.mark.parametrize(
    ("length", "more"), [("1999", 5), ("2000", 5), ("2000.001", 7), ("5000", 7), ("6000", 10), ("12000", 10)]
)
def test_over_measure_of_fixed_lengths(length: str, more: int) -> None:
    """EN 755-9 (from memory): +5/0 up to 2 m, +7/0 up to 5 m, +10/0 up to 10 m."""
    assert over_measure(mm(length)) == mm(more)


def test_only_done_and_stopped_bars_are_cut() -> None:
    """A frozen bar is still to be cut; it only may not change."""
    assert [state for state in BarState if state.cut] == [BarState.DONE, BarState.STOPPED]


def test_damage_lies_on_the_bar() -> None:
    """A stretch from nowhere, or of no length, is a slip."""
    for start, end in ((-1, 5), (5, 5), (6, 5)):
        with pytest.raises(ProblemError):
            Span(Length(start), Length(end))


@pytest.mark.parametrize(
    "said",
    [
        {"outcome": Outcome.DONE, "tail": Length(-1)},
        {"outcome": Outcome.FROZEN, "made": 1},
        {"outcome": Outcome.DONE, "short": True},
        {"outcome": Outcome.STOPPED, "short": True, "tail": mm(5)},
        {"outcome": Outcome.STOPPED, "made": -1},
        {"outcome": Outcome.DONE, "defects": (Span(mm(1), mm(2)),)},
        {"outcome": Outcome.STOPPED, "defects": (Span(mm(1), mm(2)),), "tail": mm(5)},
        {"outcome": Outcome.STOPPED, "defects": (Span(mm(1), mm(5)), Span(mm(4), mm(6)))},
        {"outcome": Outcome.FROZEN, "tail": NO_LENGTH},
        {"outcome": Outcome.NOT_FOUND, "miscuts": (Miscut("A"),)},
        {"outcome": Outcome.DONE, "miscuts": (Miscut("A"), Miscut("A", mm(5)))},
    ],
)
def test_a_report_that_contradicts_itself_is_refused(said: dict[str, object]) -> None:
    """What cannot be is refused where it is said, not planned on."""
    with pytest.raises(ProblemError, match="Bar 3"):
        BarReport(bar=3, **said)  # type: ignore[arg-type]


def test_what_came_out_has_a_length() -> None:
    """Nothing came out: the length is left out, not zero."""
    assert Miscut("A").length is None
    with pytest.raises(ProblemError):
        Miscut("A", NO_LENGTH)


def test_a_bar_is_reported_once() -> None:
    """Two reports of one bar cannot both hold."""
    one = BarReport(bar=3, outcome=Outcome.DONE)
    with pytest.raises(ProblemError, match="Bar 3 is reported twice"):
        ShopReport(bars=(one, one))
