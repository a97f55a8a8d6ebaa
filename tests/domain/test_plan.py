"""The metal of a whole plan is the metal of its groups, nothing lost and nothing twice."""

from __future__ import annotations

from dataclasses import replace

from nesting.domain.totals import Totals
from tests.verify.small_plan import plan


def test_a_plan_s_account_is_the_sum_of_its_groups() -> None:
    """The figures on the first page are those of the pages behind it, added up."""
    some = plan()
    assert len(some.groups) > 1
    assert some.totals.bars == sum(len(group.bars) for group in some.groups)
    assert some.totals.used == sum(bar.length for group in some.groups for bar in group.bars)
    assert replace(some, groups=()).totals == Totals()
