"""The harness's own check of a packing."""

import dataclasses

import pytest

from benchmarks import check
from nesting.domain.packing import Packing, PatternUse
from nesting.domain.problem import BarKind, Problem
from nesting.units import Length

# Bar 100, 5 off each end, kerf 2. 43 + 2 + 45 = 90 fills it exactly: 5 + 90 + 5 = 100.
PROBLEM = Problem(
    lengths=(Length(45), Length(43)),
    counts=(1, 3),
    bars=(BarKind(key="new", length=Length(100), head=Length(5), tail=Length(5), cost=7, count=2),),
    kerf=Length(2),
)
SOUND = Packing(uses=(PatternUse(0, ((0, 1), (1, 1)), 1), PatternUse(0, ((1, 2),), 1)), short=(0, 0))


def test_a_bar_filled_to_the_last_nanometre_is_sound() -> None:
    """Only n - 1 strokes lie between n pieces; a check that charges n would refuse good plans."""
    assert check.faults(PROBLEM, SOUND) == ()
    assert check.cost(PROBLEM, SOUND) == 14


@pytest.mark.parametrize(
    ("uses", "short", "why"),
    [
        # 45 + 2 + 43 + 2 + 43 = 135, 45 past the 90 there are.
        ((PatternUse(0, ((0, 1), (1, 2)), 1), PatternUse(0, ((1, 1),), 1)), (0, 0), "45 nm past"),
        ((PatternUse(0, ((0, 1), (1, 1)), 1), PatternUse(0, ((1, 1),), 1)), (0, 0), "length 43"),
        ((PatternUse(0, ((0, 1), (1, 1)), 1), PatternUse(0, ((1, 2),), 2)), (0, 0), "length 43"),
        ((PatternUse(0, ((0, 1),), 1), PatternUse(0, ((1, 1),), 3)), (0, 0), "4 opened, 2 at hand"),
        ((PatternUse(1, ((0, 1),), 1),), (0, 3), "bar that does not exist"),
        ((PatternUse(0, ((2, 1),), 1),), (1, 3), "piece that does not exist"),
        ((PatternUse(0, ((0, -1),), 1),), (2, 3), "piece that does not exist"),
        ((PatternUse(0, ((0, 1),), 0),), (1, 3), "cut 0 times"),
        ((), (1,), "1 shortfalls"),
        ((PatternUse(0, ((0, 1), (1, 1)), 1),), (0, 3), "length 43"),
    ],
)
def test_every_broken_promise_is_named(
    uses: tuple[PatternUse, ...], short: tuple[int, ...], why: str
) -> None:
    """A benchmark that believes the engine measures nothing."""
    assert any(why in fault for fault in check.faults(PROBLEM, Packing(uses, short)))


def test_a_wider_kerf_turns_a_sound_plan_into_an_overfull_one() -> None:
    """43 + 3 + 45 = 91 no longer fits the 90 between the trims."""
    wider = dataclasses.replace(PROBLEM, kerf=Length(3))
    assert check.faults(wider, SOUND) == ("pattern 1 runs 1 nm past the end of the bar",)
