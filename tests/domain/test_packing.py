"""What patterns leave behind and cost."""

from __future__ import annotations

import pytest

from nesting.domain.packing import Packing, PatternUse, cost_of, remainder, scrap_of, tail_of, total_scrap
from nesting.domain.problem import BarKind, Problem
from nesting.units import mm

# 2500 with h = e = 8 and k = 3; tails of 400 and more are kept.
ASKED = Problem(
    lengths=(mm(1200), mm(610)),
    counts=(2, 12),
    bars=(
        BarKind(key="bar", length=mm(2500), head=mm(8), tail=mm(8), cost=7),
        BarKind(key="short", length=mm(2000), head=mm(8), tail=mm(8), cost=5),
    ),
    kerf=mm(3),
    keep_length=mm(400),
)
FOUR, TWO = ((1, 4),), ((0, 2),)


@pytest.mark.parametrize(
    ("pieces", "rest"),
    [
        (FOUR, "43"),  # 2500 - 8 - 2440 - 3 x 3
        (TWO, "89"),  # 2500 - 8 - 2400 - 1 x 3
        (((0, 1), (1, 1)), "679"),  # 2500 - 8 - 1810 - 3
        (((1, 1),), "1882"),  # 2500 - 8 - 610: nothing is sawn between pieces
    ],
)
def test_what_stands_behind_the_last_piece(pieces: tuple[tuple[int, int], ...], rest: str) -> None:
    """L - h - sum(a) - (n - 1) k, before the last stroke."""
    assert remainder(ASKED, 0, pieces) == mm(rest)


def test_the_last_stroke_takes_a_kerf_or_what_there_is() -> None:
    """43 leave 40; 1 to saw in leaves nothing, and never less than nothing."""
    assert tail_of(ASKED, 0, FOUR) == mm(40)
    # 1997 - 8 - 3 x 660 - 2 x 3 = 3 would be the kerf; one less is a sliver
    sliver = Problem(
        lengths=(mm(660),), counts=(3,), bars=(BarKind(key="b", length=mm(1996), head=mm(8)),), kerf=mm(3)
    )
    assert remainder(sliver, 0, ((0, 3),)) == mm(2)
    assert tail_of(sliver, 0, ((0, 3),)) == 0


def test_a_tail_worth_keeping_is_no_scrap() -> None:
    """676 go back to the rack, 40 and 86 do not."""
    assert (scrap_of(ASKED, 0, ((0, 1), (1, 1))), scrap_of(ASKED, 0, FOUR)) == (0, mm(40))


def test_all_bars_count() -> None:
    """3 x 40 + 86, and 3 x 7 + 7; one of 610 on 2000 leaves 1379, which is kept: no scrap, cost 5."""
    packing = Packing((PatternUse(0, FOUR, 3), PatternUse(0, TWO, 1), PatternUse(1, ((1, 1),), 1)), (0, 0))
    assert total_scrap(ASKED, packing) == mm(206)
    assert cost_of(ASKED, packing) == 33
