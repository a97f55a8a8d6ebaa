"""One run's channel: its whole length, the sections it is sawn in, and the cover of each."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from nesting.domain.material import CoverMode, Family, Part, SplitRule
from nesting.domain.request import Request
from nesting.domain.runs import EndCondition, LengthKind, Run
from nesting.domain.stock import StockLine
from nesting.takeoff.channel import channel_length, finished_length
from nesting.takeoff.cover import caps_meet, cover_length
from nesting.takeoff.joints import equal_split, full_split, longest_section, sections_needed
from nesting.takeoff.rounding import sawn_cover
from nesting.units import NO_LENGTH, Length, Unit, length_text

_MOST_SECTIONS = 1000  # far beyond any run; a slip of the unit must not make a million pieces


@dataclass(frozen=True, slots=True)
class Section:
    """
    One stretch of channel between two ends, with its cover.

    Parameters
    ----------
    length, cover
        What the saw is set to, nanometres.
    exact, cover_exact
        The same by the formulas, before rounding.
    """

    length: Length
    exact: Length
    left: EndCondition
    right: EndCondition
    cover: Length
    cover_exact: Length


class NotMade(Exception):
    """A run that gives no pieces, and why; the take-off lists it, it never reaches a user."""

    def __init__(self, code: str, length: Length, reason: str) -> None:
        self.code, self.length, self.reason = code, length, reason
        super().__init__(reason)


def whole_channel(run: Run, family: Family) -> Length:
    """Give the channel length over all sections by the formulas, before rounding; nanometres."""
    if run.kind is LengthKind.CHANNEL:
        return run.length
    left = family.clearance if run.clearance_left is None else run.clearance_left
    right = family.clearance if run.clearance_right is None else run.clearance_right
    finished = finished_length(run.length, run.kind, clearance_left=left, clearance_right=right)
    return channel_length(
        finished,
        cap_left=family.cap_thickness if run.left.capped else NO_LENGTH,
        cap_right=family.cap_thickness if run.right.capped else NO_LENGTH,
    )


def longest_sections(request: Request, part: Part) -> dict[tuple[str, str], Length | None]:
    """Give the longest section of each family and finish on offer, of channel or of cover."""
    lines: dict[tuple[str, str], list[StockLine]] = {}
    for line in request.stock:
        if line.part is part:
            lines.setdefault((line.family, line.finish), []).append(line)
    saw, slivers = request.saw_for(part), request.goals.slivers
    return {key: longest_section(offered, saw, slivers=slivers) for key, offered in lines.items()}


def nose_at(family: Family, end: EndCondition) -> Length:
    """Give the length of the cap's nose inside this end, 0 where no cap sits."""
    return family.nose if end.capped else NO_LENGTH


def sections_of(
    run: Run, family: Family, request: Request, whole: Length, sawn: Length, longest: Length | None
) -> Iterator[Section]:
    """
    Divide a channel where it must be, and give each section its ends and its cover.

    Parameters
    ----------
    whole, sawn
        Channel length over all sections before and after rounding, nanometres.
    longest
        Longest section a bar yields; None leaves the channel whole.

    Raises
    ------
    NotMade
        When the caps meet, nothing is left to saw, or the channel is too long and may not be split.
    """
    lengths: tuple[Length, ...] = (sawn,)
    exacts: tuple[Length, ...] = (whole,)
    if longest is not None and sawn > longest:
        lengths, exacts = _divided(run, family, request.saw.step, whole, sawn, longest)
    ends = (run.left, *[EndCondition.JOINT] * (len(lengths) - 1), run.right)
    for length, exact, (left, right) in zip(lengths, exacts, pairwise(ends), strict=True):
        yield _section(family, request, length, exact, left, right)


def _divided(
    run: Run, family: Family, step: Length, whole: Length, sawn: Length, longest: Length
) -> tuple[tuple[Length, ...], tuple[Length, ...]]:
    """Give the sections as sawn and before rounding; either adds up to its whole exactly."""
    rule = run.split_rule or family.split_rule
    gap = family.joint_gap
    sections = sections_needed(sawn, longest, gap)
    if rule is SplitRule.NEVER or sections > _MOST_SECTIONS:
        refused = "with joints off" if rule is SplitRule.NEVER else f"for {_MOST_SECTIONS} sections"
        raise NotMade(
            "too-long",
            sawn,
            f"too long {refused}: the channel is {length_text(sawn, Unit.MM)}, "
            f"the longest bar yields {length_text(longest, Unit.MM)}",
        )
    if rule is SplitRule.EQUAL:
        lengths = equal_split(sawn, sections, longest=longest, gap=gap, step=step)
        return lengths, equal_split(whole, sections, longest=longest, gap=gap)
    # A rest that its own cap would fill is shared like one that is shorter than wanted.
    filled = Length(nose_at(family, run.right) + family.cover_play + max(step, 1))
    shortest = max(family.shortest_section, filled)
    lengths = full_split(sawn, sections, longest=longest, gap=gap, shortest=shortest, step=step)
    return lengths, (*lengths[:-1], Length(lengths[-1] + whole - sawn))


def _section(
    family: Family, request: Request, length: Length, exact: Length, left: EndCondition, right: EndCondition
) -> Section:
    """Give one section with its cover; the cover is made for the channel as sawn."""
    if length <= 0:
        raise NotMade("no-length", length, "clearances, caps and joints leave no channel to saw")
    separate = family.cover_mode is CoverMode.SEPARATE
    cover, cover_exact = (
        cover_length(
            channel,
            nose_left=nose_at(family, left),
            nose_right=nose_at(family, right),
            play=family.cover_play if separate else NO_LENGTH,
        )
        for channel in (length, exact)
    )
    if separate:
        cover = sawn_cover(cover, request.saw_for(Part.COVER).step)
    if caps_meet(cover):
        raise NotMade(
            "caps-meet",
            length,
            f"the caps meet: a channel of {length_text(length, Unit.MM)} leaves no room between them",
        )
    return Section(length, exact, left, right, cover, cover_exact)
