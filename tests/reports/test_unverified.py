"""What must not be cut yet."""

from __future__ import annotations

from dataclasses import replace

import pytest

from nesting.domain.plan import Plan
from nesting.domain.status import Status
from nesting.reports.unverified import cuts_warning, statuses, unverified, unverified_cuts, unverified_words
from tests.reports.plans import example_plan

PLAN = example_plan()


def with_status(status: Status, *names: str) -> Plan:
    """Give the example with some runs that are less sure."""
    runs = tuple(replace(r, status=status) if r.id in names else r for r in PLAN.request.runs)
    return replace(PLAN, request=replace(PLAN.request, runs=runs))


@pytest.mark.parametrize("status", [Status.DRAWING, Status.VERIFY, Status.HOLD])
def test_every_piece_of_an_unsure_run_is_marked(status: Status) -> None:
    """A jointed run of three sections rests on one size, and all its pieces with it."""
    plan = with_status(status, "OY-304-7")
    assert unverified(plan) == {"OY-304-7/1", "OY-304-7/2", "OY-304-7/3"}
    assert statuses(plan)["OY", "OY-304-7"] is status
    assert unverified_words(plan) == "3 of 38 pieces come from sizes not yet verified: do not cut them."


def test_a_bar_says_which_of_its_cuts_must_wait() -> None:
    """Cuts are numbered as they are sawn; a bar of verified sizes says nothing."""
    bar = PLAN.groups[0].bars[1]
    names = {cut.piece for cut in bar.cuts}
    assert unverified_cuts(bar, {bar.cuts[1].piece}) == (2,)
    assert cuts_warning(unverified_cuts(bar, names)) == (
        "VERIFY CUTS 1-3: sizes not verified on site. Do not cut them before they are measured."
    )
    assert cuts_warning((2,)).startswith("VERIFY CUT 2: size not verified")
    assert cuts_warning(unverified_cuts(bar, ())) == ""


def test_measured_sizes_need_no_word() -> None:
    """A warning that is always there is never read."""
    assert unverified(PLAN) == frozenset()
    assert unverified_words(PLAN) == ""
