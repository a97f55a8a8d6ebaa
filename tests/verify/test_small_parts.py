"""The auditor counts caps, clips and joint sets a second time, and names what differs."""

from __future__ import annotations

from dataclasses import replace

import pytest

from nesting.domain.material import Family
from nesting.domain.plan import Plan
from nesting.domain.request import Request
from nesting.domain.rules import DEFAULT_SAW
from nesting.domain.runs import EndCondition, Run
from nesting.domain.small_parts import CapCount, CapKind, Hand, PartCount, SmallParts
from nesting.domain.stock import StockLine
from nesting.takeoff.small_parts import small_parts_of
from nesting.takeoff.take_off import take_off
from nesting.units import mm
from nesting.verify.small_parts import caps_due, clips_due, joint_sets_due, small_part_violations

FAMILY = Family(
    name="F", handed_caps=True, clip_edge=mm(100), clip_spacing=mm(400), clip_single_below=mm(160)
)


def plan_of(length: str, parts: SmallParts | None = None, family: Family = FAMILY) -> Plan:
    """Give a plan of one run, its bars left out, with its own small parts unless told otherwise."""
    run = Run(job="J", id="r", family="F", length=mm(length), left=EndCondition.HOLED_CAP, quantity=2)
    stock = (StockLine(family="F", length=mm(2500)),)
    request = Request(runs=(run,), families=(family,), stock=stock, saw=DEFAULT_SAW)
    taken = take_off(request)
    counted = small_parts_of(request, taken.pieces, taken.strips)
    return Plan(
        id="x",
        request=request,
        pieces=taken.pieces,
        strips=(),
        groups=(),
        order=(),
        jobs=(),
        unplaced=(),
        small_parts=parts or counted,
    )


@pytest.mark.parametrize("length", ["150", "180", "200", "600", "600.1", "915", "1800", "2484", "5334"])
def test_both_counts_agree(length: str) -> None:
    """Two ways of counting that share no code; lengths at and beside the thresholds."""
    plan = plan_of(length)
    assert list(small_part_violations(plan)) == []
    assert plan.small_parts is not None
    assert clips_due(plan) == {("F", ""): plan.small_parts.clips[0].count}


def test_a_wrong_cap_is_named() -> None:
    """A left cap on the right end, or one too few, stops the fitter on site."""
    plan = plan_of("915")
    assert plan.small_parts is not None
    swapped = tuple(replace(cap, kind=replace(cap.kind, hand=Hand.LEFT)) for cap in plan.small_parts.caps)
    wrong = replace(plan, small_parts=replace(plan.small_parts, caps=swapped))
    codes = [violation.code for violation in small_part_violations(wrong)]
    assert codes == ["cap-count", "cap-count"]
    few = replace(
        plan, small_parts=replace(plan.small_parts, caps=(CapCount(CapKind("F", "", Hand.LEFT, True), 1),))
    )
    assert "1 caps are listed, 2 are needed" in str(next(iter(small_part_violations(few))))


def test_wrong_clips_and_joint_sets_are_named() -> None:
    """5334 in three sections of 1778: 5 clips each, 2 sets a fixture, two fixtures."""
    plan = plan_of("5334")
    assert plan.small_parts is not None
    assert clips_due(plan) == {("F", ""): 30}
    assert joint_sets_due(plan) == {("F", ""): 4}
    wrong = replace(plan.small_parts, clips=(PartCount("F", "", 29),), joint_sets=())
    codes = [violation.code for violation in small_part_violations(replace(plan, small_parts=wrong))]
    assert codes == ["clip-count", "joint-set-count"]


def test_plans_older_than_small_parts_pass() -> None:
    """A plan of last year is still audited for what it says."""
    assert list(small_part_violations(replace(plan_of("915"), small_parts=None))) == []


def test_runs_without_pieces_take_no_caps() -> None:
    """What is left out needs no bag."""
    plan = plan_of("915")
    assert caps_due(replace(plan, pieces=())) == {}
