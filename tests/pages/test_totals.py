"""Sums of lengths in words."""

from __future__ import annotations

from api.pages.totals import total_words
from nesting.reports.lengths import BothUnits
from nesting.units import Unit, mm


def test_a_sum_is_said_in_metres_and_feet_the_readers_first() -> None:
    """10 990 mm = 10.99 m; 10 990 / 304.8 = 36.056 ft."""
    assert total_words(mm(10_990), BothUnits()) == "10.99\N{NO-BREAK SPACE}m (36.06 ft)"
    assert total_words(mm(10_990), BothUnits(Unit.INCH)) == "36.06\N{NO-BREAK SPACE}ft (10.99 m)"
