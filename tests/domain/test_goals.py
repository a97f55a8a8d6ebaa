"""The price of a second goal."""

import pytest

from nesting.domain.goals import GoalPrice, Goals
from nesting.errors import ProblemError


def test_a_goal_tells_what_it_saved_and_what_it_cost() -> None:
    """Nine strokes down to six is three saved, 100 up to 110 is ten paid."""
    price = GoalPrice(goal="strokes", cost_before=100, cost_after=110, value_before=9, value_after=6)
    assert (price.saved, price.price) == (3, 10)


def test_proof_needs_a_bound_that_is_met() -> None:
    """An unknown bound proves nothing."""
    assert not GoalPrice(goal="x", cost_before=1, cost_after=1, value_before=3, value_after=2).proved
    for bound, proved in ((1, False), (2, True)):
        price = GoalPrice(
            goal="x", cost_before=1, cost_after=1, value_before=3, value_after=2, lower_bound=bound
        )
        assert price.proved is proved


@pytest.mark.parametrize("gang", [0, -1, 100])
def test_a_clamp_holds_one_bar_or_more(gang: int) -> None:
    """A gang of nothing cuts nothing."""
    with pytest.raises(ProblemError, match="clamp"):
        Goals(gang=gang)
