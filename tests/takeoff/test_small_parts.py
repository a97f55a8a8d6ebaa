"""The bag of a unit holds every part that its fixtures need, and none for what is not made."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from nesting.domain.material import Family
from nesting.domain.mitre import Mitre
from nesting.domain.request import Request
from nesting.domain.rules import DEFAULT_SAW
from nesting.domain.runs import EndCondition, Place, Run
from nesting.domain.small_parts import (
    AdhesiveLine,
    CapCount,
    CapKind,
    ClipRule,
    ConnectorLine,
    Hand,
    PartCount,
    SmallParts,
    StripLine,
)
from nesting.domain.stock import StockLine
from nesting.takeoff.small_parts import clip_rule, small_parts_of, strip_article
from nesting.takeoff.take_off import take_off
from nesting.units import mm

FAMILY = Family(
    name="F",
    strip_pitch=Fraction(mm(50)),
    strip_name="W-24",
    strip_watts=Fraction("9.6"),
    strip_volts=Fraction(24),
    handed_caps=True,
    clip_edge=mm(100),
    clip_spacing=mm(400),
    adhesive_rows=2,
)
RUN = Run(job="J", id="r", family="F", length=mm(915), left=EndCondition.HOLED_CAP, quantity=2)


def parts_of(*runs: Run, family: Family = FAMILY) -> SmallParts:
    request = Request(
        runs=runs,
        families=(family,),
        stock=(StockLine(family="F", length=mm(2500)),),
        saw=DEFAULT_SAW,
    )
    taken = take_off(request)
    return small_parts_of(request, taken.pieces, taken.strips)


def test_two_fixtures_fill_their_bag() -> None:
    """915 of channel: 3 clips at 357.5, 18 marks (900 mm, 8.64 W), 2 rows of tape; times two."""
    assert parts_of(RUN) == SmallParts(
        caps=(
            CapCount(CapKind("F", "", Hand.LEFT, True), 2),
            CapCount(CapKind("F", "", Hand.RIGHT, False), 2),
        ),
        clips=(PartCount("F", "", 6),),
        connectors=(ConnectorLine(family="F", feeds=2, jumpers=0),),
        adhesive=(AdhesiveLine("F", "", mm(3660)),),
        strips=(
            StripLine(
                strip="W-24",
                pieces=2,
                length=mm(1800),
                watts=Fraction("17.28"),
                driver_watts=Fraction("21.6"),
                outputs=1,
                output_watts=Fraction(96),
            ),
        ),
    )


def test_a_long_run_needs_joint_sets() -> None:
    """5334 in three sections of 1778: two sets, 5 clips a section (1578 / 400 up, and one)."""
    parts = parts_of(replace(RUN, length=mm(5334), quantity=1))
    assert parts.joint_sets == (PartCount("F", "", 2),)
    assert parts.clips == (PartCount("F", "", 15),)


def test_every_unit_has_outputs_of_its_own() -> None:
    """Two units share no driver; what one circuit takes more than an output gives is not suggested."""
    units = (replace(RUN, id=unit, place=Place(unit=unit)) for unit in ("101", "102"))
    assert parts_of(*units).strips[0].outputs == 2
    # 0.9 m at 90 W/m are 81 W, an output carries 96 x 0.8 = 76.8 W.
    strong = parts_of(RUN, family=replace(FAMILY, strip_watts=Fraction(90)))
    assert (strong.strips[0].outputs, strong.strips[0].output_watts) == (None, None)


def test_a_run_that_is_not_made_takes_no_parts() -> None:
    """The bag is packed for what the plan makes."""
    unknown = Run(job="J", id="x", family="G", length=mm(915))
    assert parts_of(unknown) == SmallParts()


def test_a_corner_takes_one_bridge() -> None:
    """Two mitred ends make a corner; the leg behind it has no lead of its own. Odd ends round up."""
    leg = replace(
        RUN,
        right=EndCondition.MITRE,
        mitre_right=Mitre(Fraction(45)),
        quantity=1,
        left=EndCondition.HOLED_CAP,
    )
    request = Request(runs=(leg,), families=(FAMILY,), saw=DEFAULT_SAW)
    piece = take_off(replace(request, runs=(RUN,))).pieces[0]
    strip = take_off(replace(request, runs=(RUN,))).strips[0]
    parts = small_parts_of(request, (piece,), (strip,))
    assert parts.connectors == (ConnectorLine(family="F", feeds=1, jumpers=1),)


def test_names_and_rules_of_a_family() -> None:
    """A strip without an article is the family's; no spacing counts no clips."""
    assert strip_article(FAMILY) == "W-24"
    assert strip_article(replace(FAMILY, strip_name="")) == "F"
    assert clip_rule(FAMILY) == ClipRule(edge=mm(100), pitch=mm(400))
    assert clip_rule(Family(name="F")) is None
