"""Whole cut marks of strip, in inches and in millimetres."""

from __future__ import annotations

from fractions import Fraction

import pytest

from nesting.takeoff.strip import strip_fit
from nesting.units import NM_PER_MM, Length, inches, mm

CHANNEL = mm(915)


def metric(pitch: Fraction | int, channel: Length = CHANNEL) -> tuple[int, Length, Length]:
    """Give marks, length and dark end for noses 9.5, feed 20 and tail 3."""
    fit = strip_fit(
        channel,
        Fraction(pitch) * NM_PER_MM,
        nose_left=mm("9.5"),
        nose_right=mm("9.5"),
        feed=mm(20),
        tail=mm(3),
    )
    return fit.marks, fit.length, fit.dark


@pytest.mark.parametrize(
    ("pitch", "marks", "length", "dark"),
    [
        (Fraction(50), 17, mm(850), mm(46)),  # 873 / 50 = 17.46
        (Fraction(100), 8, mm(800), mm(96)),
        # 52 x 50/3 = 866.666666|6..., the length down and the dark end up to a nanometre
        (Fraction(50, 3), 52, mm("866.666666"), mm("29.333334")),
    ],
)
def test_marks_between_metric_caps(pitch: Fraction, marks: int, length: Length, dark: Length) -> None:
    """A 915 channel with 9.5 noses leaves 896 - 23 = 873 for strip."""
    assert metric(pitch) == (marks, length, dark)


@pytest.mark.parametrize(
    ("pitch", "marks", "length", "dark"),
    [
        (Fraction(inches(2)), 17, inches(34), inches("1 1/4")),
        (Fraction(mm(50)), 17, mm(850), Length(inches("35 1/4") - mm(850))),  # 850 mm = 33.465 in
    ],
)
def test_marks_between_inch_caps(pitch: Fraction, marks: int, length: Length, dark: Length) -> None:
    """A 36 in channel with 3/8 in noses leaves 35 1/4 - 7/8 = 34 3/8 in for strip."""
    fit = strip_fit(
        inches(36),
        pitch,
        nose_left=inches("3/8"),
        nose_right=inches("3/8"),
        feed=inches("3/4"),
        tail=inches("1/8"),
    )
    assert (fit.marks, fit.length, fit.dark) == (marks, length, dark)


def test_an_exact_multiple_keeps_its_last_mark() -> None:
    """300 marks of 50/3 mm are 5 m exactly; a rounded pitch would give 299."""
    fit = strip_fit(mm(5000), Fraction(50, 3) * NM_PER_MM)
    assert (fit.marks, fit.length, fit.dark) == (300, mm(5000), 0)
    assert strip_fit(Length(mm(5000) - 1), Fraction(50, 3) * NM_PER_MM).marks == 299


def test_the_next_mark_costs_this_channel_length() -> None:
    """18 x 50 + 19 + 23 = 942: 27 mm more channel gain a mark, a nanometre less does not."""
    fit = strip_fit(
        mm(915),
        Fraction(50 * NM_PER_MM),
        nose_left=mm("9.5"),
        nose_right=mm("9.5"),
        feed=mm(20),
        tail=mm(3),
    )
    assert fit.for_next_mark == mm(942)
    assert metric(50, mm(942))[0] == 18
    assert metric(50, Length(mm(942) - 1))[0] == 17


def test_the_next_mark_is_rounded_up_where_the_pitch_is_not_whole() -> None:
    """53 x 50/3 + 42 = 925.33...: the channel must reach the mark, so the nanometre goes up."""
    fit = strip_fit(mm(915), Fraction(50, 3) * NM_PER_MM, nose_left=mm(19), feed=mm(20), tail=mm(3))
    assert fit.for_next_mark == mm("925.333334")
    assert metric(Fraction(50, 3), mm("925.333334"))[0] == 53
    assert metric(Fraction(50, 3), mm("925.333333"))[0] == 52


@pytest.mark.parametrize("channel", [mm(91), mm(30), mm(5)])
def test_a_short_channel_takes_no_strip(channel: Length) -> None:
    """Less than one mark, or less than the clearances, is no strip and all dark: 50 + 42 = 92."""
    fit = strip_fit(
        channel, Fraction(50 * NM_PER_MM), nose_left=mm("9.5"), nose_right=mm("9.5"), feed=mm(20), tail=mm(3)
    )
    assert (fit.marks, fit.length, fit.for_next_mark) == (0, 0, mm(92))
