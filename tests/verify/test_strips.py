"""The auditor finds each slip in strip and reels: a mark too many does not go in."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from nesting.batch.run import plan_request
from nesting.domain.material import CapStyle, Family
from nesting.domain.plan import Plan
from nesting.domain.request import Request
from nesting.domain.rules import DEFAULT_SAW
from nesting.domain.runs import Run
from nesting.domain.stock import StockLine
from nesting.units import Length, mm
from nesting.verify.certificate import check_proofs
from nesting.verify.strips import reel_problem_of, reel_violations, strip_violations
from tests.verify.change import change

FAMILY = Family(
    name="F",
    cap_style=CapStyle.NOSE,
    nose=mm(8),
    strip_pitch=Fraction(mm(50)),
    strip_feed=mm(20),
    strip_tail=mm(3),
    strip_longest=mm(2000),
    strip_reel=mm(5000),
)


@pytest.fixture(scope="module")
def plan() -> Plan:
    """Give three fixtures of 2990: 2951 are free, 59 marks in circuits of 30 + 29; two reels."""
    run = Run(job="J", id="r", family="F", length=mm(2990), quantity=3)
    stock = (StockLine(family="F", length=mm(3500)),)
    return plan_request(Request(runs=(run,), families=(FAMILY,), stock=stock, saw=DEFAULT_SAW))


def codes(plan: Plan) -> list[str]:
    return [violation.code for violation in (*strip_violations(plan), *reel_violations(plan))]


def test_a_sound_plan_passes(plan: Plan) -> None:
    """Nothing is found where nothing is wrong, and fewer reels are proved impossible again."""
    assert codes(plan) == []
    (reels,) = plan.reels
    assert (len(reels.reels), reels.bound) == (2, 2)
    assert reel_problem_of(reels).counts == (3, 3)
    assert any(line.startswith("F strip on reels: checked again") for line in check_proofs(plan).lines)


@pytest.mark.parametrize(
    ("path", "changes", "code"),
    [
        ("strips.0", {"quantity": 2}, "strip-quantity"),
        ("strips.0", {"length": Length(1)}, "strip-length"),
        ("strips.0", {"parts": (30, 30)}, "strip-parts"),
        ("strips.0", {"circuits": 1}, "strip-circuits"),
        ("strips.0", {"marks": 58, "length": mm(2900), "parts": (29, 29)}, "strip-room"),
        ("strips.0", {"run": "x"}, "strip-unasked"),
        ("reels.0", {"marks": 101}, "reel-marks"),
        ("reels.0", {"bound": 3}, "reel-bound"),
        ("reels.0.reels.0", {"rest": 0}, "reel-overrun"),
        ("reels.0.reels.0", {"cuts": ()}, "strip-piece"),
        ("reels.0.reels.0.cuts.0", {"marks": 12}, "strip-piece-marks"),
        ("reels.0.reels.0.cuts.0", {"copy": 9}, "strip-piece"),
    ],
)
def test_each_slip_is_named(plan: Plan, path: str, changes: dict[str, object], code: str) -> None:
    """A mark too many is a strip that does not go in."""
    assert code in codes(change(plan, path, **changes))


def test_reels_refute_a_bound_above_their_own_number(plan: Plan) -> None:
    """Two reels show that two are enough, whatever a search is said to have proved."""
    closed = {"bound": 2, "closed_by": "an exhaustive search"}
    assert check_proofs(change(plan, "reels.0.certificate", **closed)).hold
    raised = check_proofs(change(plan, "reels.0.certificate", **{**closed, "bound": 3}))
    assert [violation.code for violation in raised.violations] == ["certificate-above-cost"]


def test_plans_without_reels_pass(plan: Plan) -> None:
    """Reels came later than strips."""
    assert codes(replace(plan, reels=())) == []
