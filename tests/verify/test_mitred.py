"""Slips in mitred plans, each of which the auditor has to name."""

from __future__ import annotations

from fractions import Fraction

import pytest

from nesting.batch.run import plan_request
from nesting.domain.material import Family
from nesting.domain.mitre import Mitre, MitreSection
from nesting.domain.plan import Plan
from nesting.domain.request import Request
from nesting.domain.rules import SawRules
from nesting.domain.runs import EndCondition, LengthKind, Run
from nesting.domain.stock import StockLine
from nesting.units import Length, mm
from nesting.verify import violations
from tests.verify.change import change

SAW = SawRules(kerf=mm(3), head_trim=mm(8), tail_loss=mm(8), keep_length=mm(400), grip=mm(150))


@pytest.fixture(scope="module")
def plan() -> Plan:
    """Give two legs that share a stroke on one bar: 8, 2824, 4.242641, 1944, stroke and tail."""
    runs = tuple(
        Run(
            job="J",
            id=name,
            family="Q",
            length=mm(length),
            kind=LengthKind.LONG_POINT,
            left=EndCondition.BARE,
            right=EndCondition.MITRE,
            mitre_right=Mitre(Fraction(45)),
        )
        for name, length in (("long", 2839), ("short", 1959))
    )
    family = Family(name="Q", width=mm(30))
    stock = (StockLine(family="Q", length=mm(5000)),)
    return plan_request(Request(runs=runs, families=(family,), stock=stock, saw=SAW))


def codes(plan: Plan) -> set[str]:
    return {violation.code for violation in violations(plan)}


def test_a_sound_plan_passes(plan: Plan) -> None:
    """Nothing is found where nothing is wrong."""
    assert codes(plan) == set()


@pytest.mark.parametrize(
    ("path", "changes", "code"),
    [
        # The second piece one micrometre nearer: the shared stroke would take some of it.
        ("groups.0.bars.0.cuts.1", {"face": Length(4_772_241_641)}, "stroke-through-piece"),
        ("groups.0.bars.0.cuts.1", {"face": Length(4_772_241_641)}, "face-position"),
        ("groups.0.bars.0.cuts.0", {"slope_end": Fraction(0)}, "cut-slopes"),
        ("groups.0.bars.0.cuts.0", {"long_point": mm(2840)}, "cut-slopes"),
        ("groups.0.bars.0", {"kerf_loss": Length(1)}, "kerf-loss"),
        ("groups.0.bars.0", {"strokes": 2}, "strokes"),
        ("groups.0.bars.0", {"tail": Length(1)}, "tail"),
        ("groups.0", {"mitre": None}, "no-section"),
        ("groups.0", {"mitre": MitreSection(width=mm(20), symmetric=True)}, "section"),
        ("groups.0", {"mitre": MitreSection(width=mm(30), symmetric=False)}, "turned"),
        ("request.families.0", {"symmetric": False}, "section"),
        ("pieces.0", {"slope_right": Fraction(45)}, "piece-slopes"),
        ("pieces.0", {"long_point": mm(2840)}, "piece-length"),
        ("pieces.0", {"length": mm(2825)}, "piece-length"),
        ("request.runs.0", {"length": mm(2850)}, "piece-length"),
        ("request.runs.0", {"kind": LengthKind.CENTRE_LINE}, "piece-length"),
    ],
)
def test_each_slip_is_named(plan: Plan, path: str, changes: dict[str, object], code: str) -> None:
    """A mitre cut at the wrong place is a corner that gapes."""
    assert code in codes(change(plan, path, **changes))
