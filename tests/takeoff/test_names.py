"""Pieces are named so that a person finds the run, and no two alike."""

from __future__ import annotations

import pytest

from nesting.domain.material import Material, Part
from nesting.domain.pieces import Piece
from nesting.domain.runs import PieceLine, Run
from nesting.takeoff.names import cover_name, names_of_runs, piece_name, with_unique_names
from nesting.units import mm


def run(job: str, name: str) -> Run:
    """Give a run of which only job and id matter."""
    return Run(job=job, id=name, family="TOLV-17N", length=mm(1000))


def piece(name: str) -> Piece:
    """Give a piece of which only the name matters."""
    return Piece(
        id=name,
        job="J",
        run=name,
        material=Material("TOLV-17N", "natural", Part.CHANNEL),
        length=mm(1000),
        exact=mm(1000),
    )


@pytest.mark.parametrize(
    ("copies", "copy", "sections", "section", "name"),
    [
        (1, 1, 1, 1, "OY-305-2"),
        (2, 1, 1, 1, "OY-305-2.1"),
        (2, 2, 1, 1, "OY-305-2.2"),
        (1, 1, 2, 2, "OY-305-2/2"),
        (3, 1, 2, 2, "OY-305-2.1/2"),
    ],
)
def test_copies_and_sections_are_named_where_there_are_several(
    copies: int, copy: int, sections: int, section: int, name: str
) -> None:
    """The run's id stays alone as long as it says enough."""
    assert piece_name("OY-305-2", copy=copy, copies=copies, section=section, sections=sections) == name


def test_a_cover_is_named_after_its_channel() -> None:
    """The cover that goes on a channel is found by adding one letter."""
    assert cover_name("OY-305-2.1/2") == "OY-305-2.1/2c"


def test_ids_shared_by_jobs_carry_the_job() -> None:
    """Run ids are unique in their job only; where two jobs share one, both are told apart."""
    line = PieceLine(job="North", id="B", family="TOLV-17N", length=mm(500))
    assert names_of_runs(
        [run("North", "A"), run("South", "A"), run("South", "B"), line, run("East", "C")]
    ) == {
        ("North", "A"): "North:A",
        ("South", "A"): "South:A",
        ("South", "B"): "South:B",
        ("North", "B"): "North:B",
        ("East", "C"): "C",
    }


def test_names_that_still_clash_are_numbered() -> None:
    """The second copy of A and a run named A.2 stay two pieces, whatever else is listed."""
    names = [p.id for p in with_unique_names([piece(n) for n in ("A.1", "A.2", "A.2#2", "A.2", "A.2")])]
    assert names == ["A.1", "A.2", "A.2#2", "A.2#3", "A.2#4"]
