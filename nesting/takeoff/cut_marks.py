"""What a little more or less channel does to the light: one more cut mark, or none lost."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from nesting.errors import Finding, Severity, Where
from nesting.takeoff.strip import StripFit
from nesting.units import Length, Unit, length_text


@dataclass(frozen=True, slots=True)
class MarkAdvice:
    """
    How far a channel is from the neighbouring number of marks.

    Parameters
    ----------
    more
        Channel to add for one more mark, nanometres.
    spare
        Channel that could go without losing a mark.
    dark
        What stays dark between the caps now.
    """

    more: Length
    spare: Length
    dark: Length


def mark_advice(channel: Length, fit: StripFit, pitch: Fraction, allowance: Length) -> MarkAdvice:
    """
    Compare a channel with the next mark up and with the least channel for its marks.

    Parameters
    ----------
    channel
        Channel length (A) the strip was fitted to, nanometres.
    pitch
        Distance between cut marks (p), nanometres.
    allowance
        Noses and clearances the strip was fitted with, n_L + n_R + a_feed + a_tail.
    """
    spare = channel - allowance - ceil(fit.marks * pitch) if fit.marks else 0
    return MarkAdvice(Length(fit.for_next_mark - channel), Length(spare), fit.dark)


def mark_note(
    run: str, channel: Length, advice: MarkAdvice, *, within: Length, unit: Unit, where: Where
) -> Finding | None:
    """
    Say what one more mark costs, in the user's unit; None when it costs more than ``within``.

    The channel is never changed: an opening or a finished size binds.
    """
    if advice.more > within:
        return None
    more, longer, dark = (
        length_text(length, unit) for length in (advice.more, Length(channel + advice.more), advice.dark)
    )
    return Finding(
        severity=Severity.NOTE,
        code="one-more-mark",
        where=where,
        found=run,
        message=f"+{more} of channel ({longer}) gains one more cut mark of strip; {dark} stays dark now.",
    )
