"""The separate covers of a run in sections, their joints kept off the channel's."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from nesting.domain.material import CoverMode, Family, Part
from nesting.domain.request import Request
from nesting.domain.runs import Run
from nesting.errors import Finding, ProblemError, Severity
from nesting.takeoff.cover import cover_length
from nesting.takeoff.cover_joints import channel_joints, staggered_covers
from nesting.takeoff.rounding import sawn_cover
from nesting.takeoff.sections import Section, nose_at
from nesting.units import Length, Unit, length_text


@dataclass(frozen=True, slots=True)
class CoverPart:
    """One cover as sawn, and before rounding; nanometres."""

    length: Length
    exact: Length


def staggers(family: Family) -> bool:
    """Tell whether a family's covers run over the channel's joints: from a coil, or kept apart from them."""
    return family.cover_mode is CoverMode.SEPARATE and (family.cover_coil or family.cover_stagger > 0)


def covers_over_joints(
    run: Run, family: Family, request: Request, sections: Sequence[Section], longest: Length | None
) -> tuple[CoverPart, ...] | None:
    """
    Divide the cover of a run in sections, V = A - n_L - n_R - g over all of it, away from its joints.

    Parameters
    ----------
    sections
        Of the channel, as sawn.
    longest
        Longest cover a bar yields; a coil has no such limit.

    Returns
    -------
    None when no division keeps its distance: then each section gets a cover of its own.
    """
    gaps = (len(sections) - 1) * family.joint_gap

    def over_all(channel: int) -> Length:
        return cover_length(
            Length(channel + gaps),
            nose_left=nose_at(family, run.left),
            nose_right=nose_at(family, run.right),
            play=family.cover_play,
        )

    step = request.saw_for(Part.COVER).step
    total = sawn_cover(over_all(sum(section.length for section in sections)), step)
    exact = over_all(sum(section.exact for section in sections))
    joints = channel_joints([section.length for section in sections], family.joint_gap)
    try:
        lengths = staggered_covers(
            total,
            joints,
            apart=family.cover_stagger,
            longest=None if family.cover_coil else longest,
            shortest=family.shortest_section,
            start=nose_at(family, run.left),
            step=step,
        )
    except ProblemError:
        return None
    # The last cover takes what rounding took off the whole.
    last = CoverPart(lengths[-1], Length(lengths[-1] + exact - total))
    return (*(CoverPart(length, length) for length in lengths[:-1]), last)


def joints_together(run: Run, family: Family) -> Finding:
    """Warn that a run's cover joints lie over its channel joints after all."""
    return Finding(
        severity=Severity.WARNING,
        code="cover-joints-together",
        where=run.where,
        found=f"{run.job} {run.id}",
        message=f"No way of dividing the cover keeps its joints {length_text(family.cover_stagger, Unit.MM)} "
        "off the channel's; each section gets a cover of its own, and light may show at the joints.",
    )
