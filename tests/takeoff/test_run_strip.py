"""Strip is cut into circuits that its feed, its reel and the channel allow."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from nesting.domain.electrics import Feed
from nesting.domain.material import Family
from nesting.domain.mitre import Mitre
from nesting.domain.pieces import StripCut
from nesting.domain.runs import EndCondition, Run
from nesting.errors import Finding
from nesting.takeoff.run_strip import feed_of, fit_of, longest_circuit, strip_of_run
from nesting.units import mm

RUN = Run(job="J", id="r", family="F", length=mm(915))
FAMILY = Family(
    name="F",
    strip_pitch=Fraction(mm(50)),
    strip_feed=mm(20),
    strip_tail=mm(3),
    strip_longest=mm(2000),
    strip_longest_both=mm(4000),
)
SOLID, HOLED, MITRE = EndCondition.SOLID_CAP, EndCondition.HOLED_CAP, EndCondition.MITRE


@pytest.mark.parametrize(
    ("run", "feed"),
    [
        (replace(RUN, left=HOLED), Feed.LEFT),
        (replace(RUN, right=HOLED), Feed.RIGHT),
        (replace(RUN, left=HOLED, right=HOLED), Feed.THROUGH),
        (RUN, Feed.BACK),
        (replace(RUN, left=HOLED, right=HOLED, feed=Feed.BOTH), Feed.BOTH),
        (replace(RUN, right=MITRE, mitre_right=Mitre(Fraction(45))), None),
        (replace(RUN, left=HOLED, right=MITRE, mitre_right=Mitre(Fraction(45))), Feed.LEFT),
    ],
)
def test_the_feed_as_said_or_as_the_caps_show(run: Run, feed: Feed | None) -> None:
    """A leg behind a corner gets its power from the other leg, not through a lead of its own."""
    assert feed_of(run) is feed


def test_feeding_both_ends_allows_a_longer_circuit() -> None:
    """The data sheet has a figure for each."""
    assert longest_circuit(FAMILY, Feed.LEFT) == mm(2000)
    assert longest_circuit(FAMILY, Feed.BOTH) == mm(4000)
    assert longest_circuit(FAMILY, None) == mm(2000)


def test_a_long_strip_is_cut_into_circuits_and_said_so() -> None:
    """2973 of channel hold (2973 - 23) / 50 = 59 marks, 2950 mm: two circuits of at most 2 m."""
    cut, advice = strip_of_run(RUN, FAMILY, mm(2973))
    assert isinstance(cut, StripCut)
    assert (cut.marks, cut.circuits, cut.parts, cut.channel) == (59, 2, (30, 29), mm(2973))
    assert isinstance(advice, Finding)
    assert advice.code == "strip-past-longest-circuit"
    both = tuple(strip_of_run(replace(RUN, feed=Feed.BOTH), FAMILY, mm(2973)))
    assert [found.parts for found in both if isinstance(found, StripCut)] == [(59,)]


def test_a_reel_shorter_than_the_circuit_makes_more_pieces_not_more_circuits() -> None:
    """1.75 m are one circuit, cut from reels of 1 m as 18 + 17 marks."""
    (cut,) = strip_of_run(RUN, replace(FAMILY, strip_reel=mm(1000)), mm(1773))
    assert isinstance(cut, StripCut)
    assert (cut.circuits, cut.parts) == (1, (18, 17))


def test_no_strip_without_a_pitch_and_none_in_too_short_a_channel() -> None:
    """The one is nothing to say, the other is a warning."""
    assert tuple(strip_of_run(RUN, Family(name="F"), mm(915))) == ()
    (finding,) = strip_of_run(RUN, FAMILY, mm(72))
    assert isinstance(finding, Finding)
    assert finding.code == "strip-too-short"
    with pytest.raises(ValueError, match="has no strip"):
        fit_of(RUN, Family(name="F"), mm(915))
