"""Lengths brought to the saw's setting step; step 0 saws any length exactly."""

from __future__ import annotations

from nesting.domain.runs import LengthKind
from nesting.units import Length


def round_down(length: Length, step: Length) -> Length:
    """Give the longest multiple of the step that is not longer; nanometres."""
    return Length(length // step * step) if step else length


def round_nearest(length: Length, step: Length) -> Length:
    """Give the nearest multiple of the step, half a step up; nanometres."""
    return Length((2 * length + step) // (2 * step) * step) if step else length


def sawn_channel(exact: Length, kind: LengthKind, step: Length) -> Length:
    """
    Give the length to set the saw to for a channel.

    A channel made for an opening rounds down, so that it goes in; finished and channel sizes round
    to the nearest step.
    """
    return round_down(exact, step) if kind is LengthKind.OPENING else round_nearest(exact, step)


def sawn_cover(exact: Length, step: Length) -> Length:
    """Give the length to set the saw to for a cover: down, since it goes in between two caps."""
    return round_down(exact, step)
