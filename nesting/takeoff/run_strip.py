"""One run's strip: how it is fed, how many marks fit, and the pieces it is cut in."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from nesting.domain.electrics import Feed
from nesting.domain.material import Family
from nesting.domain.mitre import MitrePlane, MitrePoint
from nesting.domain.pieces import StripCut
from nesting.domain.runs import EndCondition, Run
from nesting.errors import Finding, Severity
from nesting.takeoff.circuits import circuit_advice, circuits_of
from nesting.takeoff.mitred_run import lit_ends, mitre_section
from nesting.takeoff.mitres import lit_length, room_along, slopes
from nesting.takeoff.sections import nose_at
from nesting.takeoff.strip import StripFit, strip_fit
from nesting.units import NO_LENGTH, Length, Unit, length_text


def feed_of(run: Run) -> Feed | None:
    """
    Give how a run is fed: as the list says, else by its holed caps.

    A run without either is fed through a corner when it has one (None: no lead of its own), else
    through its back.
    """
    if run.feed is not None:
        return run.feed
    holed = [end is EndCondition.HOLED_CAP for end in (run.left, run.right)]
    if all(holed):
        return Feed.THROUGH
    if any(holed):
        return Feed.LEFT if holed[0] else Feed.RIGHT
    return None if run.mitres else Feed.BACK


def longest_circuit(family: Family, feed: Feed | None) -> Length | None:
    """Give the longest circuit of the family's strip for a way of feeding; None when nothing is said."""
    both = feed is not None and feed.ends_fed == 2
    return family.strip_longest_both if both else family.strip_longest


def strip_of_run(run: Run, family: Family, sawn: Length) -> Iterator[StripCut | Finding]:
    """
    Give the strip for the whole lit length, and what deserves a look; nothing without a pitch.

    Parameters
    ----------
    sawn
        Channel length over all sections as sawn, nanometres.
    """
    if family.strip_pitch is None:
        return
    fit = fit_of(run, family, sawn)
    if not fit.marks:
        yield Finding(
            severity=Severity.WARNING,
            code="strip-too-short",
            where=run.where,
            found=run.id,
            message=f"A channel of {length_text(sawn, Unit.MM)} is too short for one cut mark of strip; "
            f"{length_text(fit.for_next_mark, Unit.MM)} would take one.",
        )
        return
    feed = feed_of(run)
    longest = longest_circuit(family, feed)
    pieces = min((size for size in (longest, family.strip_reel) if size is not None), default=None)
    yield StripCut(
        job=run.job,
        run=run.id,
        quantity=run.quantity,
        marks=fit.marks,
        length=fit.length,
        dark=fit.dark,
        for_next_mark=fit.for_next_mark,
        channel=sawn,
        circuits=len(circuits_of(fit.marks, family.strip_pitch, longest)),
        parts=circuits_of(fit.marks, family.strip_pitch, pieces),
    )
    advice = circuit_advice(
        run.id,
        fit.marks,
        family.strip_pitch,
        feed=feed or Feed.LEFT,
        one_end=family.strip_longest,
        both_ends=family.strip_longest_both,
        where=run.where,
    )
    if advice is not None:
        yield advice


def fit_of(run: Run, family: Family, sawn: Length) -> StripFit:
    """
    Fit whole marks of the family's strip between the ends of a run.

    In a mitred run the strip stops at the short point, or, where its own width is known, where its
    corner would meet the mitre.

    Raises
    ------
    ValueError
        When the family has no strip pitch.
    """
    if family.strip_pitch is None:
        raise ValueError(f"Family {family.name!r} has no strip.")
    if run.mitres:
        return _mitred_fit(run, family, family.strip_pitch, sawn)
    return strip_fit(
        sawn,
        family.strip_pitch,
        nose_left=nose_at(family, run.left),
        nose_right=nose_at(family, run.right),
        feed=family.strip_feed,
        tail=family.strip_tail,
    )


def _mitred_fit(run: Run, family: Family, pitch: Fraction, long_point: Length) -> StripFit:
    section = mitre_section(family, run.plane or MitrePlane.FLAT)
    width = section.width if section else NO_LENGTH
    left, right = slopes(run.mitre_left, run.mitre_right)
    noses = {"nose_left": nose_at(family, run.left), "nose_right": nose_at(family, run.right)}
    if family.strip_width:
        room = room_along(long_point, MitrePoint.LONG, MitrePoint.CENTRE, width=width, left=left, right=right)
        first, last = lit_ends(run, family)
        fit = strip_fit(room, pitch, feed=first, tail=last, **noses)
    else:
        room = lit_length(long_point, width=width, left=left, right=right)
        fit = strip_fit(room, pitch, feed=family.strip_feed, tail=family.strip_tail, **noses)
    return replace(fit, for_next_mark=Length(long_point + fit.for_next_mark - room))
