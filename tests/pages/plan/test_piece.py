"""Where a piece goes."""

from api.pages.plan.piece import piece_view
from nesting.reports.lengths import METRIC
from tests.reports.plans import example_plan

PLAN = example_plan()


def test_a_piece_says_where_it_goes_and_comes_from() -> None:
    """Section 2 of a jointed run of 3, first cut of bar 2."""
    found = piece_view(PLAN, "OY-304-7/2", METRIC)
    assert found is not None
    assert found.place == (
        ("building", "Orrelbeck Yard"),
        ("floor", "3"),
        ("unit", "OY-304"),
        ("room", "hall"),
    )
    assert (found.bar, found.order, found.siblings, found.reason) == (2, 1, 3, "")
    facts = {name: value.replace("\N{NO-BREAK SPACE}", " ") for name, value in found.facts}
    assert facts["length"] == "1778 mm (70 in)"
    assert facts["section"] == "2 of 3, jointed"
    assert facts["ends"] == "left joint, right joint"


def test_a_piece_left_out_says_why() -> None:
    """Whoever looks for it must not conclude that it was never asked for."""
    found = piece_view(PLAN, "R-7", METRIC)
    assert found is not None
    assert (found.bar, found.reason) == (0, "Longer than any bar, and joints are off for this run.")


def test_an_unknown_piece_is_none() -> None:
    """A mistyped id shows nothing made up."""
    assert piece_view(PLAN, "OY-999-1", METRIC) is None
