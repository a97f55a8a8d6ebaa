"""A run with mitred ends: its long point, its centre line, the slopes of its faces, its cover."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from nesting.domain.electrics import Feed
from nesting.domain.material import CoverMode, Family, Part
from nesting.domain.mitre import MitrePlane, MitrePoint, MitreSection
from nesting.domain.pieces import Piece
from nesting.domain.request import Request
from nesting.domain.rules import SawRules
from nesting.domain.runs import EndCondition, LengthKind, Run
from nesting.takeoff.angles import tangent
from nesting.takeoff.cover import caps_meet, cover_length
from nesting.takeoff.mitres import mitred_length, slopes, solver_length, tip_length
from nesting.takeoff.rounding import sawn_channel, sawn_cover
from nesting.takeoff.sections import NotMade, nose_at
from nesting.units import NO_LENGTH, Length, Unit, length_text


@dataclass(frozen=True, slots=True, kw_only=True)
class MitredRun:
    """
    The channel of one mitred run, and its cover.

    Parameters
    ----------
    long_point, length, exact
        As sawn along the longer edge, its centre line (up to a nanometre), and the centre line before
        rounding to the saw's step.
    left, right
        Slopes of its faces, degrees.
    cover, cover_length, cover_exact
        The same of its cover.
    """

    long_point: Length
    length: Length
    exact: Length
    left: Fraction
    right: Fraction
    cover: Length
    cover_length: Length
    cover_exact: Length


def mitre_section(family: Family, plane: MitrePlane) -> MitreSection | None:
    """Give a family's section in a plane of mitres; None when its width or height is unknown."""
    width = family.width if plane is MitrePlane.FLAT else family.height
    if not width:
        return None
    return MitreSection(width=width, symmetric=family.symmetric, plane=plane)


def mitred_run(run: Run, family: Family, request: Request, longest: Length | None) -> MitredRun:
    """
    Measure a mitred run for the saw.

    Its size counts along the line the run names; a finished size without one is its long point. Cap
    thickness is taken off at capped ends. A mitred run is never divided.

    Parameters
    ----------
    longest
        Longest piece a bar yields; None when nothing is stocked.

    Raises
    ------
    NotMade
        When the section's size is not known, the size is an opening's, nothing is left to saw, or
        no bar is long enough.
    """
    section = mitre_section(family, run.plane or MitrePlane.FLAT)
    if section is None:
        size = "width" if run.plane is MitrePlane.FLAT else "height"
        raise NotMade(
            "section-unknown",
            run.length,
            f"the catalogue does not give the section's {size}, which a mitre needs",
        )
    if run.kind is LengthKind.OPENING:
        raise NotMade(
            "mitre-in-opening", run.length, "an opening does not size a mitred run; give its long point"
        )
    left, right = slopes(run.mitre_left, run.mitre_right)
    exact = _long_point(run, family, section, left, right)
    long_point = sawn_channel(exact, run.kind, request.saw.step)
    if long_point <= 0:
        raise NotMade("no-length", long_point, "clearances and caps leave no channel to saw")

    def centre(length: Length) -> Length:
        return mitred_length(
            length, MitrePoint.LONG, MitrePoint.CENTRE, width=section.width, left=left, right=right
        )

    separate = family.cover_mode is CoverMode.SEPARATE
    covers = []
    for channel in (long_point, exact):
        covers.append(
            cover_length(
                channel,
                nose_left=nose_at(family, run.left),
                nose_right=nose_at(family, run.right),
                play=family.cover_play if separate else NO_LENGTH,
            )
        )
    cover = sawn_cover(covers[0], request.saw_for(Part.COVER).step) if separate else covers[0]
    if centre(long_point) <= 0 or caps_meet(centre(cover)):
        raise NotMade(
            "caps-meet",
            long_point,
            f"the ends meet: a long point of {length_text(long_point, Unit.MM)} leaves nothing between them",
        )
    made = MitredRun(
        long_point=long_point,
        length=centre(long_point),
        exact=centre(exact),
        left=left,
        right=right,
        cover=cover,
        cover_length=centre(cover),
        cover_exact=centre(covers[1]),
    )
    needed = bar_needed(made.length, section, left, right, request.saw.kerf)
    if longest is not None and needed > longest:
        raise NotMade(
            "too-long",
            long_point,
            f"mitred runs are not divided: it takes {length_text(needed, Unit.MM)} of a bar, the longest "
            f"yields {length_text(longest, Unit.MM)}",
        )
    return made


def bar_needed(
    centre: Length, section: MitreSection, left: Fraction, right: Fraction, kerf: Length
) -> Length:
    """Give what a piece takes of a bar between head trim and tail loss: tip to tip, and extra kerf."""
    tips = tip_length(section, left) + tip_length(section, right)
    return solver_length(Length(centre + tips), left, right, kerf)


def needed_by(piece: Piece, section: MitreSection | None, saw: SawRules) -> Length:
    """Give what any piece takes of a bar between head trim and tail loss; a square one its length."""
    if section is None or not piece.mitred:
        return piece.length
    return bar_needed(piece.length, section, piece.slope_left, piece.slope_right, saw.kerf)


def lit_ends(run: Run, family: Family) -> tuple[Length, Length]:
    """
    Give the clearances of the strip at both ends of a mitred run, from the centre line's ends.

    The lead comes in at the fed end, at the corner where the run has no lead of its own. A strip of
    known width keeps its own corner off the mitre, (strip width / 2) tan mu; the larger of both
    counts.
    """
    feed = run.feed
    from_right = feed is Feed.RIGHT or (feed is None and _fed_right(run))
    clearances = [family.strip_feed, family.strip_tail]
    if from_right:
        clearances.reverse()
    ends = []
    for clearance, mitre in zip(clearances, (run.mitre_left, run.mitre_right), strict=True):
        reach = NO_LENGTH
        if mitre is not None:
            reach = Length((abs(tangent(mitre.angle)) * Fraction(family.strip_width, 2)).up())
        ends.append(max(clearance, reach))
    return ends[0], ends[1]


def _fed_right(run: Run) -> bool:
    """Tell whether the light comes in from the right: by its holed cap, else through its corner."""
    if EndCondition.HOLED_CAP in (run.left, run.right):
        return run.left is not EndCondition.HOLED_CAP
    return run.mitre_left is None


def _long_point(run: Run, family: Family, section: MitreSection, left: Fraction, right: Fraction) -> Length:
    if run.kind is LengthKind.CHANNEL:
        return run.length
    along = mitred_length(
        run.length, run.kind.point, MitrePoint.LONG, width=section.width, left=left, right=right
    )
    caps = sum(family.cap_thickness for end in (run.left, run.right) if end.capped)
    return Length(along - caps)
