"""One more cut mark, and how much channel could go."""

from __future__ import annotations

from fractions import Fraction

from nesting.errors import NOWHERE
from nesting.takeoff.cut_marks import MarkAdvice, mark_advice, mark_note
from nesting.takeoff.strip import StripFit, strip_fit
from nesting.units import NM_PER_MM, Length, Unit, inches, mm

PITCH = Fraction(mm(50))
THIRD = Fraction(50, 3) * NM_PER_MM
ALLOWANCE = mm(42)  # noses 2 x 9.5, feed 20, tail 3


def fitted(channel: Length, pitch: Fraction = PITCH) -> StripFit:
    """Give the strip of a channel with those noses and clearances."""
    return strip_fit(channel, pitch, nose_left=mm("9.5"), nose_right=mm("9.5"), feed=mm(20), tail=mm(3))


def test_27_more_gain_a_mark_and_23_less_lose_none() -> None:
    """915 with 17 marks: 942 takes 18, 892 still takes 17; 46 stays dark."""
    advice = mark_advice(mm(915), fitted(mm(915)), PITCH, ALLOWANCE)
    assert advice == MarkAdvice(more=mm(27), spare=mm(23), dark=mm(46))
    assert fitted(mm(942)).marks == 18
    assert fitted(mm(892)).marks == 17
    assert fitted(Length(mm(892) - 1)).marks == 16


def test_a_rational_pitch_keeps_its_last_mark() -> None:
    """52 x 50/3 ends between two nanometres: the channel that is left must still reach it."""
    advice = mark_advice(mm(915), fitted(mm(915), THIRD), THIRD, ALLOWANCE)
    assert fitted(Length(mm(915) - advice.spare), THIRD).marks == 52
    assert fitted(Length(mm(915) - advice.spare - 1), THIRD).marks == 51
    assert fitted(Length(mm(915) + advice.more), THIRD).marks == 53
    assert fitted(Length(mm(915) + advice.more - 1), THIRD).marks == 52


def test_a_channel_without_strip_has_nothing_to_spare() -> None:
    """Nothing is lit, so no length can be called spare."""
    advice = mark_advice(mm(80), fitted(mm(80)), PITCH, ALLOWANCE)
    assert (advice.more, advice.spare) == (mm(12), 0)


def test_the_note_speaks_the_users_unit() -> None:
    """+27 mm (942 mm) gains one more mark; silent past the limit."""
    advice = mark_advice(mm(915), fitted(mm(915)), PITCH, ALLOWANCE)
    note = mark_note("r", mm(915), advice, within=mm(27), unit=Unit.MM, where=NOWHERE)
    assert note is not None
    assert (
        note.message == "+27 mm of channel (942 mm) gains one more cut mark of strip; 46 mm stays dark now."
    )
    assert mark_note("r", mm(915), advice, within=mm(26), unit=Unit.MM, where=NOWHERE) is None
    inch = mark_note(
        "r",
        inches(36),
        MarkAdvice(inches("1 1/2"), inches(0), inches("1 1/4")),
        within=inches(2),
        unit=Unit.INCH,
        where=NOWHERE,
    )
    assert inch is not None
    assert inch.message.startswith("+1 1/2 in of channel (37 1/2 in)")
