"""The light strip: whole cut marks only, and what stays dark."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from nesting.units import NO_LENGTH, Length


@dataclass(frozen=True, slots=True, kw_only=True)
class StripFit:
    """
    The strip that fits between two caps.

    Parameters
    ----------
    marks
        Whole cut marks (m); 0 when no strip fits.
    length
        Strip length S = m p, rounded down to a nanometre where the pitch is not whole.
    dark
        Length between the caps that stays dark, nanometres.
    for_next_mark
        Channel length that gains one more mark, rounded up to a nanometre.
    """

    marks: int
    length: Length
    dark: Length
    for_next_mark: Length


def strip_fit(
    channel: Length,
    pitch: Fraction,
    *,
    nose_left: Length = NO_LENGTH,
    nose_right: Length = NO_LENGTH,
    feed: Length = NO_LENGTH,
    tail: Length = NO_LENGTH,
) -> StripFit:
    """
    Fit m = floor((A - n_L - n_R - a_feed - a_tail) / p) marks of strip into a channel.

    Parameters
    ----------
    channel
        Channel length over all sections (A), nanometres.
    pitch
        Distance between cut marks (p) in nanometres, a rational: 300 marks in 5 m are 50/3 mm, and
        a rounded pitch would lose a mark where the length is an exact multiple.
    nose_left, nose_right
        Cap noses inside the channel.
    feed, tail
        Clearance for the leads and at the far end.
    """
    inside = channel - nose_left - nose_right
    marks = max((inside - feed - tail) // pitch, 0)
    length = Length(int(marks * pitch))
    return StripFit(
        marks=marks,
        length=length,
        dark=Length(inside - length),
        for_next_mark=Length(ceil((marks + 1) * pitch) + nose_left + nose_right + feed + tail),
    )
