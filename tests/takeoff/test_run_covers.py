"""Tests of nesting.takeoff.run_covers, and of the plans they end up in."""

from __future__ import annotations

from dataclasses import replace

import pytest

from nesting.batch.run import plan_request
from nesting.domain.material import CapStyle, CoverMode, Family, Part
from nesting.domain.plan import Plan
from nesting.domain.request import Request
from nesting.domain.rules import SawRules
from nesting.domain.runs import Run
from nesting.domain.stock import StockLine
from nesting.takeoff.run_covers import staggers
from nesting.units import Length, mm
from nesting.verify import violations
from tests.verify.change import change

FAMILY = Family(
    name="F",
    cap_style=CapStyle.NOSE,
    nose=mm(9),
    cover_mode=CoverMode.SEPARATE,
    cover_play=mm(2),
    joint_gap=mm(1),
    cover_stagger=mm(200),
)
SAW = SawRules(
    kerf=mm(3), head_trim=mm(8), tail_loss=mm(8), keep_length=mm(400), grip=mm(150), step=mm("0.5")
)


def planned(family: Family = FAMILY, *, length: str = "5335", cover_bar: str = "2500") -> Plan:
    """Plan a run of 5335 from channels of 2500: three sections of 1777.66 less a gap of 1 at each joint."""
    run = Run(job="J", id="r", family="F", length=mm(length), quantity=2)
    stock = (
        StockLine(family="F", length=mm(2500)),
        StockLine(family="F", part=Part.COVER, length=mm(cover_bar)),
    )
    return plan_request(Request(runs=(run,), families=(family,), stock=stock, saw=SAW))


def lengths(plan: Plan, part: Part) -> list[Length]:
    return [piece.length for piece in plan.pieces if piece.part is part and piece.copy == 1]


def test_covers_run_over_the_channels_joints() -> None:
    """
    V = 5335 - 2 x 9 - 2 over all: 5315. Every joint of it lies 200 mm or more from the channel's.

    Channel joints lie at 1777.5 to 1778.5 and 3556 to 3557 from the left; covers start at the nose, 9.
    """
    plan = planned()
    assert violations(plan) == ()
    assert lengths(plan, Part.CHANNEL) == [mm("1777.5"), mm("1777.5"), mm(1778)]
    covers = lengths(plan, Part.COVER)
    assert sum(covers) == mm(5315)
    at = mm(9)
    for cover in covers[:-1]:
        at = Length(at + cover)
        assert not mm("1577.5") < at < mm("1978.5")
        assert not mm(3356) < at < mm(3757)
    names = [piece.id for piece in plan.pieces if piece.part is Part.COVER]
    assert names[0] == "r.1/1c"
    assert len(set(names)) == len(names) == 2 * len(covers)


def test_a_coil_has_no_joint() -> None:
    """One cover of 5315, cut from a coil that is stocked as one long bar."""
    plan = planned(replace(FAMILY, cover_coil=True), cover_bar="20000")
    assert violations(plan) == ()
    assert lengths(plan, Part.COVER) == [mm(5315)]


def test_where_no_division_keeps_off_the_joints_it_is_said() -> None:
    """Joints every 1778 mm leave no place 1000 mm from all of them."""
    plan = planned(replace(FAMILY, cover_stagger=mm(1000)))
    assert violations(plan) == ()
    assert "cover-joints-together" in {finding.code for finding in plan.findings}
    # One cover a section, with play and the nose at its cap: 1777.5 - 9 - 2, 1777.5 - 2, 1778 - 9 - 2.
    assert lengths(plan, Part.COVER) == [mm("1766.5"), mm("1775.5"), mm(1767)]


def test_families_that_ask_for_nothing_keep_their_covers() -> None:
    """Without a distance every section has its own cover, as ever."""
    plan = planned(replace(FAMILY, cover_stagger=mm(0)))
    assert violations(plan) == ()
    assert lengths(plan, Part.COVER) == [mm("1766.5"), mm("1775.5"), mm(1767)]
    assert not staggers(replace(FAMILY, cover_mode=CoverMode.OFFSET, cover_play=mm(0)))


@pytest.mark.parametrize("moved", [mm(100), mm(-50)])
def test_a_cover_joint_too_near_is_named(moved: Length) -> None:
    """Two covers that add up, but meet over a channel joint."""
    plan = planned()
    places = [i for i, p in enumerate(plan.pieces) if p.part is Part.COVER and p.copy == 1]
    first, second = places[:2]
    # The first joint moves to within 200 mm of the channel's at 1777.5.
    to = Length(mm("1777.5") - mm(9) + moved)
    gained = plan.pieces[first].length + plan.pieces[second].length - to
    plan = change(plan, f"pieces.{first}", length=to, exact=to)
    plan = change(plan, f"pieces.{second}", length=Length(gained), exact=Length(gained))
    assert "cover-joint-near" in {violation.code for violation in violations(plan)}
