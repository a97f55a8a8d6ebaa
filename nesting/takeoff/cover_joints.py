"""Covers over a jointed channel, their joints kept away from the channel's."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate, pairwise

from nesting.errors import ProblemError
from nesting.units import NO_LENGTH, Length

_MOST_JOINTS = 1000  # far beyond any cover; a blocked stretch must not be tried for ever

Span = tuple[int, int]  # whole steps from the cover's left end, both ends included


@dataclass(frozen=True, slots=True)
class ChannelJoint:
    """A joint of the channel from its one edge to the other, nanometres from the channel's left end."""

    start: Length
    end: Length


def channel_joints(sections: Sequence[Length], gap: Length = NO_LENGTH) -> tuple[ChannelJoint, ...]:
    """Give the joints between channel sections laid end to end with a gap (j) at each."""
    starts = accumulate(sections[:-1], lambda at, section: at + gap + section)
    return tuple(ChannelJoint(Length(at), Length(at + gap)) for at in starts)


def cover_joints(covers: Sequence[Length], start: Length = NO_LENGTH) -> tuple[Length, ...]:
    """
    Give where covers laid end to end meet, nanometres from the channel's left end.

    Parameters
    ----------
    start
        Where the first cover starts: the nose of the left cap (n_L).
    """
    return tuple(Length(start + at) for at in accumulate(covers[:-1]))


def joints_too_near(
    channel: Sequence[ChannelJoint], covers: Sequence[Length], apart: Length
) -> tuple[tuple[ChannelJoint, Length], ...]:
    """Give all pairs of a channel joint and a cover joint less than s apart, checked each with each."""
    return tuple(
        (joint, at) for joint in channel for at in covers if joint.start - apart < at < joint.end + apart
    )


def staggered_covers(
    total: Length,
    channel: Sequence[ChannelJoint],
    *,
    apart: Length,
    longest: Length | None,
    shortest: Length = NO_LENGTH,
    start: Length = NO_LENGTH,
    step: Length = NO_LENGTH,
) -> tuple[Length, ...]:
    """
    Divide a cover into the fewest pieces whose joints keep off every channel joint, about even.

    Every cover joint is at least s from every channel joint. Among the fewest pieces each joint, from
    the left, lies as near its even place as the rest allows. The last piece takes what the saw's
    steps leave over, so the pieces add up exactly.

    Parameters
    ----------
    total
        Cover over all sections, V = A - n_L - n_R - g, nanometres.
    channel
        Joints of the channel, see `channel_joints`.
    apart
        Least distance of a cover joint from a channel joint (s); common practice, no source: 150 to
        300 mm, 6 to 12 in.
    longest
        Longest cover a bar yields; None for cover from a coil, which has no joint.
    shortest
        Shortest piece wanted.
    start
        Where the cover starts on the channel, n_L.
    step
        The saw's step; 0 divides to the nanometre.

    Raises
    ------
    ProblemError
        When no division obeys all distances.
    """
    if longest is None or total <= longest:
        return (total,)
    unit = step or 1
    least, most = max(-(-shortest // unit), 1), longest // unit
    free = _free_spans(total, channel, apart, start, unit)
    # The last piece must not be shorter or longer than wanted either: it is the cover's end seen
    # from the last joint, and not a whole number of steps.
    ending = (-(-(total - longest) // unit), (total - max(shortest, 1)) // unit)
    reach: list[list[Span]] = [[(0, 0)]]  # where the j-th joint can be
    while reach[-1] and not _meet(reach[-1], [ending]):
        onward = _shifted(reach[-1], least, most) if least <= most and len(reach) <= _MOST_JOINTS else []
        reach.append(_meet(onward, free))
    if not reach[-1]:
        raise ProblemError("No cover joint keeps its distance from the channel's joints.")
    count = len(reach) - 1
    # Backwards: of those places, the ones from which the end is still reached.
    good = [_meet(reach[-1], [ending])]
    for places in reversed(reach[1:-1]):
        good.append(_meet(places, _shifted(good[-1], -most, -least)))
    joints = [0]
    for number, places in enumerate(reversed(good), 1):
        here = _meet(places, [(joints[-1] + least, joints[-1] + most)])
        even = total * number // ((count + 1) * unit)
        joints.append(min((_nearest(even, span) for span in here), key=lambda at: (abs(at - even), at)))
    edges = [*(at * unit for at in joints), total]
    return tuple(Length(behind - before) for before, behind in pairwise(edges))


def _free_spans(
    total: Length, channel: Sequence[ChannelJoint], apart: Length, start: Length, unit: int
) -> list[Span]:
    """Give the steps of the cover that keep off all channel joints."""
    spans = []
    clear_from = 0
    for joint in sorted(channel, key=lambda joint: joint.start):
        spans.append((clear_from, (joint.start - apart - start) // unit))
        clear_from = max(clear_from, -(-(joint.end + apart - start) // unit))
    spans.append((clear_from, total // unit))
    return [span for span in spans if span[0] <= span[1]]


def _shifted(spans: Sequence[Span], low: int, high: int) -> list[Span]:
    """Give everything between ``low`` and ``high`` steps further on, joined where spans touch."""
    joined: list[Span] = []
    for first, last in sorted((first + low, last + high) for first, last in spans):
        if joined and first <= joined[-1][1] + 1:
            joined[-1] = (joined[-1][0], max(joined[-1][1], last))
        else:
            joined.append((first, last))
    return joined


def _meet(one: Sequence[Span], other: Sequence[Span]) -> list[Span]:
    """Give the steps in both."""
    return sorted(
        (max(a[0], b[0]), min(a[1], b[1])) for a in one for b in other if max(a[0], b[0]) <= min(a[1], b[1])
    )


def _nearest(wanted: int, span: Span) -> int:
    return min(max(wanted, span[0]), span[1])
