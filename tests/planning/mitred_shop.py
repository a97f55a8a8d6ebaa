"""A shop that cuts mitred legs, for the tests of mitred material."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Any

from nesting.batch.run import plan_request
from nesting.batch.split import split
from nesting.domain.material import Family
from nesting.domain.mitre import Mitre
from nesting.domain.plan import GroupPlan, Plan
from nesting.domain.request import Request
from nesting.domain.rules import SawRules
from nesting.domain.runs import EndCondition, LengthKind, Run
from nesting.domain.stock import StockLine
from nesting.planning.group import Group
from nesting.takeoff.take_off import take_off
from nesting.units import mm
from nesting.verify import violations
from nesting.verify.certificate import check_proofs

F45 = Fraction(45)
SAW = SawRules(kerf=mm(3), head_trim=mm(8), tail_loss=mm(8), keep_length=mm(400), grip=mm(150))
FAMILY = Family(name="Q", width=mm(30), height=mm(20))
MITRE, BARE = EndCondition.MITRE, EndCondition.BARE


def leg(
    name: str, long_point: str, *, left: Mitre | None = None, right: Mitre | None = None, n: int = 1
) -> Run:
    """Give legs by their long points, with a corner or a bare end on either side."""
    return Run(
        job="J",
        id=name,
        family="Q",
        quantity=n,
        length=mm(long_point),
        kind=LengthKind.LONG_POINT,
        left=MITRE if left else BARE,
        right=MITRE if right else BARE,
        mitre_left=left,
        mitre_right=right,
    )


def request(*runs: Run, bar: str = "5000", family: Family = FAMILY, **more: Any) -> Request:
    """Ask for runs on bars of one length."""
    stock = (StockLine(family="Q", length=mm(bar)),)
    asked = Request(runs=runs, families=(family,), stock=stock, saw=SAW)
    return replace(asked, **more)


def planned(*runs: Run, bar: str = "5000", family: Family = FAMILY, **more: Any) -> tuple[Plan, GroupPlan]:
    """Plan, audit by the auditor's own geometry, and give the plan with its first group."""
    plan = plan_request(request(*runs, bar=bar, family=family, **more))
    assert violations(plan) == ()
    assert check_proofs(plan).hold
    return plan, plan.groups[0]


def group_of(*runs: Run, bar: str = "5000", **more: Any) -> Group:
    """Give the one group of some runs."""
    asked = request(*runs, bar=bar, **more)
    return split(asked, take_off(asked).pieces).chains[0][0]
