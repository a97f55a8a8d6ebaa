"""The cover's length between the noses of the caps."""

from __future__ import annotations

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
