from __future__ import annotations

from nesting.domain.material import Part
from nesting.reports.cautions import (
    BLADE,
    COVER,
    LIFT,
    MEASURE,
    SAW,
    STRIP,
    plan_cautions,
    saw_cautions,
    standing_cautions,
)
from nesting.units import mm
from tests.reports.plans import empty_plan, example_plan


def test_the_plans_own_dangers_are_named_with_their_bars() -> None:
    """Bar 2 ends in a 124 mm piece off a short rest, bar 11 in a sliver, bars 4-6 are 3500 mm long."""
    said = plan_cautions(example_plan())
    assert [text.split(".")[0] for text in said] == [
        "Too little left to hold: bar 2",
        "Less than a kerf of metal at the last stroke: bar 11",
        "Bars over 3 m, carried by two people: bars 4-6",
    ]


def test_an_empty_plan_has_no_dangers_of_its_own() -> None:
    """Cautions without cause would teach people to skip them."""
    assert plan_cautions(empty_plan()) == ()


def test_standing_cautions_follow_what_is_made() -> None:
    """Covers and strip are only warned about where there are any."""
    whole, bare = standing_cautions(example_plan()), standing_cautions(empty_plan())
    assert {MEASURE, COVER, STRIP} <= set(whole)
    assert MEASURE in bare
    assert not {COVER, STRIP} & set(bare)


def test_cautions_at_the_saw_follow_the_bar() -> None:
    """3 m is carried by one person, a millimetre more by two; covers are warned about when they are cut."""
    plain = saw_cautions(Part.CHANNEL, mm(3000))
    assert {MEASURE, SAW, BLADE} <= set(plain)
    assert not {LIFT, COVER, STRIP} & set(plain)
    assert saw_cautions(Part.CHANNEL, mm(3001))[0] == LIFT
    assert COVER in saw_cautions(Part.COVER, mm(2500))
    assert COVER in saw_cautions(Part.CHANNEL, mm(2500), cover_follows=True)
