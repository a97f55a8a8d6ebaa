"""Mitres of a run list are read as they are meant, their partners found, nothing guessed."""

from __future__ import annotations

from fractions import Fraction

import pytest

from nesting.domain.mitre import Mitre, MitrePlane
from nesting.domain.runs import EndCondition, Place, Run
from nesting.sheets.read_runs import mitre_of, qualified
from nesting.units import mm


@pytest.mark.parametrize(
    ("text", "mitre"),
    [
        ("mitre 45", Mitre(Fraction(45))),
        ("Mitre 45°", Mitre(Fraction(45))),
        ("miter 22.5 deg, outside", Mitre(Fraction(45, 2), outside=True)),
        ("mitre 45 internal", Mitre(Fraction(45))),
        ("mitre 30 external standing", Mitre(Fraction(30), outside=True, plane=MitrePlane.STANDING)),
        ("corner 90", Mitre(Fraction(45))),
        # mu = 90 - 135/2 = 22.5
        ("corner 135 outside", Mitre(Fraction(45, 2), outside=True)),
    ],
)
def test_mitres(text: str, mitre: Mitre) -> None:
    """Protects the angle, the side and the plane of a corner as people write them."""
    assert mitre_of(text) == mitre


@pytest.mark.parametrize(
    "text", ["mitre", "mitre 95", "corner 0", "mitre to suit", "mitred", "mitre 45 left"]
)
def test_mitres_not_guessed(text: str) -> None:
    """Protects against a corner cut at a guessed angle."""
    assert mitre_of(text) is None


def test_partners_follow_their_ids() -> None:
    """Protects a corner in lists whose run numbers start afresh in every unit."""
    runs = [
        Run(
            job="J",
            id="2",
            family="Q",
            length=mm(900),
            right=EndCondition.MITRE,
            mitre_right=Mitre(Fraction(45)),
            partner_right="3",
            place=Place(unit=unit),
        )
        for unit in ("101", "102")
    ]
    found = [(run.id, run.partner_right) for run in qualified(runs)]
    assert found == [("101-2", "101-3"), ("102-2", "102-3")]


def test_units_of_one_name_in_two_buildings_start_afresh_too() -> None:
    """Run 1 of unit 101 in each building was refused as a row copied and not corrected."""
    runs = [
        Run(job="J", id="1", family="Q", length=mm(900), place=Place(building=building, unit=unit))
        for building in ("North", "South")
        for unit in ("101", "102")
    ]
    found = [run.id for run in qualified(runs)]
    assert found == ["North-101-1", "North-102-1", "South-101-1", "South-102-1"]


def test_a_row_copied_in_one_of_two_buildings_is_still_seen() -> None:
    """Its second run 1 in one unit stays a finding, whatever the other building has."""
    runs = [
        Run(job="J", id="1", family="Q", length=mm(900), place=Place(building=building, unit="101"))
        for building in ("North", "South", "South")
    ]
    assert [run.id for run in qualified(runs)] == ["1", "1", "1"]


def test_longer_numbers_that_each_building_has_are_told_apart_with_their_corners() -> None:
    """A campus numbers its drawings building by building: 101-1 in each is no copied row."""
    runs = [
        Run(
            job="J",
            id=identity,
            family="Q",
            length=mm(900),
            right=EndCondition.MITRE,
            mitre_right=Mitre(Fraction(45)),
            partner_right="101-2",
            place=Place(building=building, unit="101"),
        )
        for building, identity in (("North", "101-1"), ("South", "101-1"), ("South", "101-7"))
    ]
    found = [(run.id, run.partner_right) for run in qualified(runs)]
    assert found == [
        ("North-101-1", "North-101-2"),
        ("South-101-1", "South-101-2"),
        ("South-101-7", "South-101-2"),
    ]
