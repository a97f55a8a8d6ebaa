"""Ages, ends and worth in words."""

from __future__ import annotations

import pytest

from api.pages.rack.words import age_words, day_words, ends_words, minute_words, worth_as_new
from nesting.domain.stock import EndState
from nesting.units import mm

Prices = dict[tuple[str, str, str], list[tuple[int, int]]]
DAY = 86_400_000_000


@pytest.mark.parametrize(
    ("days", "words"),
    [(-1, "today"), (0.9, "today"), (1, "1 day"), (59.9, "59 days"), (60, "2 months"), (365, "12 months")],
)
def test_an_age_is_said_as_people_say_it(days: float, words: str) -> None:
    """Days while they matter, then months; a clock that runs behind never gives a negative age."""
    assert age_words(0, int(days * DAY)) == words


def test_times_are_said_in_utc() -> None:
    """1 700 000 000 s after 1970 is 2023-11-14 22:13:20 UTC."""
    assert day_words(1_700_000_000_000_000) == "2023-11-14"
    assert minute_words(1_700_000_000_000_000) == "2023-11-14 22:13"


def test_ends_are_counted_not_sided() -> None:
    """An offcut is turned so that its raw end is the far one; which side it is says nothing."""
    clean, raw = EndState.CLEAN, EndState.RAW
    assert ends_words(clean, clean) == "both ends clean"
    assert ends_words(clean, raw) == ends_words(raw, clean) == "one end raw"
    assert ends_words(raw, raw) == "both ends raw"


def test_worth_is_new_metal_at_the_least_price_a_metre() -> None:
    """1000 mm: of 2000 at 11.40 it is 5.70, of 2500 at 14.00 it is 5.60; the cheaper counts."""
    key = ("TOLV-17N", "natural", "channel")
    bars: Prices = {key: [(114_000, mm(2000)), (140_000, mm(2500))]}
    assert worth_as_new(mm(1000), key, bars) == 56_000
    # 999 mm: 14.00 x 999 / 2500 = 5.5944, rounded down to 5.59.
    assert worth_as_new(mm(999), key, bars) == 55_900
    assert worth_as_new(mm(1000), ("OTHER", "", "channel"), bars) is None
