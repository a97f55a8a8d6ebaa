"""Where pieces go, in words; a job of several buildings names them."""

from __future__ import annotations

from dataclasses import replace

from nesting.domain.plan import Plan, Unplaced
from nesting.domain.runs import Place
from nesting.reports.completion import fixture_words, unit_rows
from nesting.reports.rooms import room_words, rooms_by_piece, spread_jobs
from tests.reports.plans import example_plan

PLAN = example_plan()


def in_two_towers(plan: Plan) -> Plan:
    """Send every second piece of the first job into another building, to a unit of the same name."""
    pieces = tuple(
        replace(piece, place=replace(piece.place, building="North" if at % 2 else "South", unit="101"))
        if piece.job == plan.pieces[0].job
        else piece
        for at, piece in enumerate(plan.pieces)
    )
    return replace(plan, pieces=pieces)


def test_a_place_falls_back_to_what_is_known() -> None:
    """A label carries unit and room, or the next larger thing."""
    assert room_words(Place("Orrelbeck Yard", "3", "OY-305", "kitchen")) == "OY-305 / kitchen"
    assert room_words(Place("Orrelbeck Yard", "3")) == "3"
    assert room_words(Place("Orrelbeck Yard")) == "Orrelbeck Yard"
    assert room_words(Place()) == ""


def test_where_a_job_has_several_buildings_each_place_says_its_own() -> None:
    """Unit 101 of one and unit 101 of the other are two doors; a job of one building stays short."""
    place = Place("North", "3", "101", "kitchen")
    assert room_words(place, spread=True) == "North / 101 / kitchen"
    assert room_words(Place("North"), spread=True) == "North"
    assert not spread_jobs(PLAN)
    plan = in_two_towers(PLAN)
    job = PLAN.pieces[0].job
    assert spread_jobs(plan) == {job}
    before, now = rooms_by_piece(PLAN), rooms_by_piece(plan)
    for piece in plan.pieces:
        if piece.job == job:
            assert now[piece.id].startswith(f"{piece.place.building} / 101")
        else:
            assert now[piece.id] == before[piece.id]


def test_two_jobs_with_a_unit_of_the_same_name_say_their_buildings() -> None:
    """The cut sheet names no job: unit 101 of the campus and unit 101 of the clinic would read the same."""
    first = PLAN.pieces[0].job

    def at(job: str) -> Place:
        return Place("Campus" if job == first else "Clinic", "1", "101", "kitchen")

    pieces = tuple(replace(piece, place=at(piece.job)) for piece in PLAN.pieces)
    runs = tuple(replace(run, place=at(run.job)) for run in PLAN.request.runs)
    plan = replace(PLAN, pieces=pieces, request=replace(PLAN.request, runs=runs))
    assert spread_jobs(plan) == {piece.job for piece in pieces}
    assert set(rooms_by_piece(plan).values()) == {"Campus / 101 / kitchen", "Clinic / 101 / kitchen"}


def test_units_of_the_same_name_in_two_buildings_are_two_units() -> None:
    """Together they would count as one that is complete after the later of their bars."""
    plan = in_two_towers(PLAN)
    mine = [row for row in unit_rows(plan) if row.job == PLAN.pieces[0].job and row.unit]
    assert {row.name for row in mine} == {"North, 101", "South, 101"}
    for row in mine:
        own = [p for p in plan.pieces if (p.place.building, p.place.floor) == (row.building, row.floor)]
        assert row.pieces == sum(p.job == row.job for p in own)
    assert all(row.name == row.unit for row in unit_rows(PLAN))


def test_a_fixture_that_is_not_made_says_its_building_too() -> None:
    """What is missing has to be found on site."""
    runs = tuple(
        replace(run, place=Place(("North", "South")[at % 2], "1", "101"))
        for at, run in enumerate(PLAN.request.runs)
    )
    one = runs[1]
    out = Unplaced(
        job=one.job, run=one.id, piece="", length=one.length, reason="no bar left", code="no-stock"
    )
    said = fixture_words(replace(PLAN, request=replace(PLAN.request, runs=runs), unplaced=(out,)))
    assert list(said.values()) == [f"fixture {one.id} (South / 101) is not made"]
