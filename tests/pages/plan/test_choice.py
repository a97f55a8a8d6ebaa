"""Filters that live in the address."""

from dataclasses import replace

import pytest

from api.pages.plan.choice import MOST_OPTIONS, Choice, choice_words, filters
from nesting.domain.runs import Place
from tests.reports.plans import TOLV, empty_plan, example_plan

AT = Place(building="Orrelbeck Yard", floor="3", unit="OY-304", room="niche")


@pytest.mark.parametrize(
    ("choice", "wanted"),
    [
        (Choice(), True),
        (Choice(floor="3", unit="OY-304"), True),
        (Choice(floor="4"), False),
        (Choice(job="RUSH"), False),
        (Choice(building="Orrelbeck Yard"), True),
        (Choice(building="Orrelbeck Mill", floor="3", unit="OY-304"), False),
        (Choice(material="TOLV-17N natural channel"), True),
        (Choice(material="TOLV-17N"), False),
        (Choice(run="OY-304-3"), True),
        (Choice(run="OY-304-1"), False),
    ],
)
def test_everything_asked_for_must_hold(choice: Choice, wanted: bool) -> None:
    """Filters narrow each other; none of them is read as a beginning of a name."""
    assert choice.wants("OY", AT, TOLV, "OY-304-3") is wanted


def test_an_address_keeps_the_filters_and_drops_the_pointer() -> None:
    """A link to another piece does not lose the floor, and does not point at two things."""
    choice = Choice(floor="3", piece="OY-304-1", bar=4, page=7)
    assert choice.address(piece="OY-304-2/1") == "?floor=3&piece=OY-304-2%2F1"
    assert choice.address(page=2) == "?floor=3&page=2"
    assert Choice(page=3).address() == ""


def test_filters_offer_what_goes_together() -> None:
    """On floor 4 there are the units of floor 4 only."""
    offered = {one.name: one.options for one in filters(example_plan(), Choice(floor="4"))}
    assert offered["unit"] == ("OY-404", "OY-405")
    assert offered["floor"] == ("3", "4")
    assert offered["job"] == ("OY", "RUSH")


def test_units_of_one_name_are_told_apart_by_their_building() -> None:
    """Floor 1, unit 101 of three buildings would be shown, and cut, as one."""
    plan = example_plan()
    places = [Place("North", "1", "101"), Place("South", "1", "101"), Place("South", "2", "204")]
    pieces = tuple(replace(plan.pieces[0], place=place) for place in places)
    plan = replace(plan, pieces=pieces)
    assert {one.name: one.options for one in filters(plan, Choice())}["building"] == ("North", "South")
    narrowed = {one.name: one.options for one in filters(plan, Choice(building="North"))}
    assert not {"floor", "unit"} & narrowed.keys()
    choice = Choice(building="South", unit="101")
    assert [choice.wants("OY", place, TOLV) for place in places] == [False, True, False]
    assert choice.address() == "?building=South&unit=101"
    assert choice.narrows
    assert choice_words(choice) == "building South, unit 101"


def test_a_filter_that_divides_nothing_is_left_out() -> None:
    """One job is no choice; but what is set can be unset."""
    assert filters(empty_plan(), Choice()) == ()
    assert [one.name for one in filters(empty_plan(), Choice(unit="305"))] == ["unit"]


def test_floors_are_in_the_order_of_numbers() -> None:
    """Floor 10 comes after floor 9, names after numbers."""
    plan = example_plan()
    names = ("10", "9", "roof")
    pieces = tuple(replace(plan.pieces[0], place=Place(floor=name)) for name in names)
    offered = {one.name: one.options for one in filters(replace(plan, pieces=pieces), Choice())}
    assert offered["floor"] == ("9", "10", "roof")


def test_hundreds_of_units_are_typed() -> None:
    """A list of a thousand units would be longer than the page it filters."""
    plan = example_plan()
    pieces = tuple(replace(plan.pieces[0], place=Place(unit=str(n))) for n in range(MOST_OPTIONS + 1))
    (unit,) = (one for one in filters(replace(plan, pieces=pieces), Choice()) if one.name == "unit")
    assert unit.options == ()


def test_a_choice_is_said() -> None:
    """What is shown says what it shows."""
    assert choice_words(Choice(floor="3", unit="305", material="TOLV-17N natural channel")) == (
        "floor 3, unit 305, TOLV-17N natural channel"
    )
    assert choice_words(Choice(piece="OY-304-1", page=2)) == ""
