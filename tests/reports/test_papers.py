"""Which papers a plan needs."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from nesting.domain.plan import Plan
from nesting.reports.papers import Paper, papers_of
from tests.paper.plans import gang_plan, small_parts_plan
from tests.reports.plans import empty_plan, example_plan


@pytest.mark.parametrize(
    ("make", "missing"),
    [
        # Offcuts used and born, but no small parts counted.
        (example_plan, {Paper.SMALL_PARTS}),
        # New bars whose tails are scrap.
        (gang_plan, {Paper.PICK_LIST, Paper.OFFCUT_LABELS, Paper.SMALL_PARTS}),
        (empty_plan, set(Paper)),
    ],
)
def test_a_paper_with_nothing_to_say_is_left_out(make: Callable[[], Plan], missing: set[Paper]) -> None:
    """An empty list makes people look for what should be on it."""
    assert papers_of(make()) == tuple(paper for paper in Paper if paper not in missing)


def test_small_parts_are_listed_where_there_are_any() -> None:
    """They come before the boxes are packed."""
    assert papers_of(small_parts_plan())[-2:] == (Paper.SMALL_PARTS, Paper.PACK_LISTS)
