"""The cover's length between the noses of the caps, and how it is cut shorter in one stroke."""

from __future__ import annotations

from dataclasses import dataclass

from nesting.units import NO_LENGTH, Length


def cover_length(
    channel: Length, *, nose_left: Length, nose_right: Length, play: Length = NO_LENGTH
) -> Length:
    """
    Give the cover's length V = A - n_L - n_R - g; with flush caps, n = 0, V = A - g.

    Parameters
    ----------
    channel
        The channel's cut length, nanometres.
    nose_left, nose_right
        Nose of the cap inside each end; 0 where no such cap sits.
    play
        Length taken off for fit and heat, once per cover.
    """
    return Length(channel - nose_left - nose_right - play)


def caps_meet(cover: Length) -> bool:
    """Tell whether the noses leave no room between them for a cover of this length."""
    return cover <= 0


@dataclass(frozen=True, slots=True, kw_only=True)
class OffsetCut:
    """
    How channel and cover are cut in one stroke, the cover coming out shorter.

    Parameters
    ----------
    seated_nose
        Nose of the cap seated at the clean end (n_L); the cover butts on the spacer before it.
    spacer
        Length of the spacer put against that nose, exactly the other cap's nose (n_R). After the
        cut the cover slides back by as much.
    offset
        From the channel's clean end to the cover's: n_L + n_R.
    cover
        Length of the cover: A - n_L - n_R.
    """

    seated_nose: Length
    spacer: Length
    offset: Length
    cover: Length


def offset_cut(channel: Length, *, nose_left: Length, nose_right: Length) -> OffsetCut:
    """Give what to set up for the offset single cut of a channel (common practice, no source)."""
    return OffsetCut(
        seated_nose=nose_left,
        spacer=nose_right,
        offset=Length(nose_left + nose_right),
        cover=cover_length(channel, nose_left=nose_left, nose_right=nose_right),
    )
