"""The auditor puts the pieces of a fixture together in the order in which they hang."""

from __future__ import annotations

from nesting.domain.material import Part
from nesting.units import mm
from nesting.verify.fixture import Fixture
from tests.verify.small_plan import plan

PLAN = plan()


def fixture(run_id: str, copy: int = 1) -> Fixture:
    """Give one fixture of the small plan, its pieces handed in backwards."""
    run = next(run for run in PLAN.request.runs if run.id == run_id)
    family = next(family for family in PLAN.request.families if family.name == run.family)
    pieces = [p for p in reversed(PLAN.pieces) if (p.run, p.copy) == (run_id, copy)]
    return Fixture.of(PLAN.request, run, family, copy, pieces)


def test_pieces_are_told_by_part_and_ordered_from_the_left() -> None:
    """Ends and joints are checked along the fixture, however the plan lists its pieces."""
    assert [piece.id for piece in fixture("C").channels] == ["C/1", "C/2"]
    assert [piece.id for piece in fixture("F", 2).channels] == ["F.2"]
    assert [piece.id for piece in fixture("F", 2).covers] == ["F.2c"]


def test_noses_and_step_are_those_of_its_own_family_and_saw() -> None:
    """SARN-12R has noses of 5 at both ends; nobody rounds here."""
    assert fixture("F").noses == mm(10)
    assert fixture("F").step(Part.COVER) == 0


def test_a_single_piece_is_named_itself() -> None:
    """The shop looks for a label, not for a run of many."""
    jointed = fixture("C")
    assert jointed.where_of(jointed.channels) == jointed.where == "run C"
    assert jointed.where_of(jointed.channels[:1]) == "piece C/1"
