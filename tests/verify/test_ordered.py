"""Tests of nesting.verify.ordered: what was ordered before, and where the reserve went, is said truly."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from nesting.domain.buying import BuyingRules, Spares
from nesting.domain.made import BarState
from nesting.domain.plan import Plan
from nesting.verify import violations
from nesting.verify.ordered import ordered_violations
from tests.batch.shop import again, bars_of, done, order, planned

# Two full bars and one in reserve; one piece is spoiled, the reserve bar gives it again.
BEFORE = planned(replace(order({659: 6}, bars={2000: "11.40"}), buying=BuyingRules(spares=Spares(bars=1))))
AFTER = again(BEFORE, done(1, **{bars_of(BEFORE)[1].cuts[0].piece.replace(".", "_"): None})).plan


def changed(**figures: Any) -> Plan:
    """Give the later plan with some figures of its order line changed."""
    return replace(AFTER, order=(replace(AFTER.order[0], **figures),))


def test_a_reserve_bar_that_is_cut_passes() -> None:
    """One reserve bar used, none left, three ordered: nothing is wrong with it."""
    assert any(bar.state is BarState.OPEN for bar in bars_of(AFTER).values())
    assert (*violations(AFTER), *ordered_violations(BEFORE, AFTER)) == ()


@pytest.mark.parametrize(
    ("figures", "code"),
    [
        ({"ordered": 2}, "ordered-before"),
        ({"ordered": 4}, "ordered-before"),
        ({"reserve_used": 0}, "reserve"),
        ({"reserve_used": 2}, "reserve"),
    ],
)
def test_a_wrong_figure_is_named(figures: dict[str, int], code: str) -> None:
    """Neither may the order before be said otherwise, nor a reserve bar vanish or come from nowhere."""
    assert code in {v.code for v in ordered_violations(BEFORE, changed(**figures))}


def test_a_reserve_is_not_used_up_by_words() -> None:
    """Three bars are cut of three ordered; a plan that cuts two has its reserve still."""
    two = replace(AFTER.order[0], bars=2)
    assert [v.code for v in ordered_violations(BEFORE, replace(AFTER, order=(two,)))] == ["reserve"]


def test_an_order_that_is_forgotten_or_made_up_is_named() -> None:
    """A line that was ordered must stay; one that was not must not claim it."""
    assert [v.code for v in ordered_violations(BEFORE, replace(AFTER, order=()))] == ["ordered-before"]
    assert [v.code for v in ordered_violations(replace(BEFORE, order=()), AFTER)] == ["ordered-before"]


def test_a_plan_alone_shows_a_reserve_that_was_never_there() -> None:
    """More reserve bars cannot be used than bars are cut, or were ordered."""
    assert "reserve" in {v.code for v in violations(changed(reserve_used=4))}
