"""Less scrap at no price."""

from __future__ import annotations

from dataclasses import replace

from nesting.domain.packing import Packing, PatternUse, cost_of, total_scrap
from nesting.solver.params import ScrapParams, SolverParams
from nesting.solver.scrap import less_scrap
from nesting.solver.solve import solve
from nesting.stop import NEVER, MaxRounds
from tests.solver.replay import faults, problem


def test_tails_are_collected_until_one_can_be_kept() -> None:
    """40 + 40 and 30 + 30 leave 20 and 40 scrap; 40 + 30 + 30 and 40 leave 0 and a tail of 60 to keep."""
    asked = problem({40: 2, 30: 2}, 100, keep_length=50)
    spread = Packing((PatternUse(0, ((0, 2),), 1), PatternUse(0, ((1, 2),), 1)), (0, 0))
    assert total_scrap(asked, spread) == 60
    better = less_scrap(asked, spread, lambda p, stop: solve(p, stop=stop), stop=NEVER, tries=4)
    assert total_scrap(asked, better) == 0
    assert cost_of(asked, better) == 2


def test_a_keepable_length_that_is_also_a_piece_is_no_trouble() -> None:
    """The tail to keep is as long as one of the pieces; none of the pieces may get lost."""
    asked = problem({50: 2, 30: 3}, 100, keep_length=50)
    result = solve(asked)
    assert list(faults(asked, result)) == []
    assert result.cost == 2


def test_a_keep_length_longer_than_every_bar_is_no_trouble() -> None:
    """Offcuts worth keeping from 400 on and bars of 100: nothing can be kept, and nothing breaks."""
    # Twelve bars leave 12 x 40 = 480 in all, more than one tail worth keeping.
    asked = problem({60: 12}, 100, keep_length=400)
    result = solve(asked)
    assert list(faults(asked, result)) == []
    assert result.cost == 12


def test_plan_without_the_second_goal_costs_the_same() -> None:
    """The first goal pays nothing for the second."""
    asked = problem({44: 9, 37: 11, 29: 13, 17: 5}, 100, kerf=1, keep_length=25)
    plain = solve(asked, params=SolverParams(scrap=ScrapParams(tries=0)))
    fine = solve(asked)
    assert list(faults(asked, fine)) == []
    assert fine.cost == plain.cost
    assert total_scrap(asked, fine.best) <= total_scrap(asked, plain.best)


def test_a_stop_leaves_the_plan_as_it_was() -> None:
    """The second goal must not outlast the user's patience."""
    asked = problem({40: 2, 30: 2}, 100, keep_length=50)
    spread = Packing((PatternUse(0, ((0, 2),), 1), PatternUse(0, ((1, 2),), 1)), (0, 0))

    def nothing_new(fuller: object, stop: object) -> object:
        return replace(solve(asked), best=Packing((), (2, 2)))

    assert less_scrap(asked, spread, nothing_new, stop=MaxRounds(0), tries=4) is spread  # type: ignore[arg-type]
