"""Mitred runs planned from end to end, each plan audited by geometry of the auditor's own."""

from __future__ import annotations

import random
from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest

from nesting.batch.run import plan_request
from nesting.batch.split import split
from nesting.domain.material import CoverMode, Family, Material, Part
from nesting.domain.mitre import Mitre, MitrePlane
from nesting.domain.plan import GroupPlan, Plan
from nesting.domain.request import Request
from nesting.domain.rules import SawRules
from nesting.domain.runs import EndCondition, LengthKind, Run
from nesting.domain.stock import Offcut, StockLine
from nesting.planning.group import Group
from nesting.planning.mitred import chain_needed, lay, tied
from nesting.solver.solve import solve
from nesting.takeoff.take_off import take_off
from nesting.units import Length, mm
from nesting.verify import violations
from nesting.verify.certificate import check_proofs

F45 = Fraction(45)
SAW = SawRules(kerf=mm(3), head_trim=mm(8), tail_loss=mm(8), keep_length=mm(400), grip=mm(150))
FAMILY = Family(name="Q", width=mm(30), height=mm(20))
MITRE, BARE = EndCondition.MITRE, EndCondition.BARE


def leg(
    name: str, long_point: str, *, left: Mitre | None = None, right: Mitre | None = None, n: int = 1
) -> Run:
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
    stock = (StockLine(family="Q", length=mm(bar)),)
    asked = Request(runs=runs, families=(family,), stock=stock, saw=SAW)
    return replace(asked, **more)


def planned(*runs: Run, bar: str = "5000", family: Family = FAMILY, **more: Any) -> tuple[Plan, GroupPlan]:
    plan = plan_request(request(*runs, bar=bar, family=family, **more))
    assert violations(plan) == ()
    assert check_proofs(plan).hold
    return plan, plan.groups[0]


def span(group: GroupPlan) -> list[int]:
    """Give tip to tip of each bar: what lies between the first clean face and the last tip."""
    return [
        bar.length - bar.head - bar.tail - 3_000_000  # the last face of every such bar is square
        for bar in group.bars
    ]


def test_a_pair_of_one_unit_does_not_share_its_cut() -> None:
    """2839 and 1959 with the two faces of one corner: 4802.24, two strokes between them."""
    _, group = planned(leg("long", "2839", right=Mitre(F45)), leg("short", "1959", left=Mitre(F45)))
    (bar,) = group.bars
    assert span(group) == [4_802_242_641]
    # Trim, two between the slopes, one behind the last.
    assert bar.strokes == 4
    assert {cut.long_point for cut in bar.cuts} == {mm(2839), mm(1959)}


def test_a_pair_of_mirrored_units_does() -> None:
    """The long leg of one hand and the short leg of the other share a stroke: 4772.24."""
    _, group = planned(leg("long", "2839", right=Mitre(F45)), leg("short", "1959", right=Mitre(F45)))
    (bar,) = group.bars
    assert span(group) == [4_772_242_641]
    assert bar.strokes == 3
    first, second = bar.cuts
    assert first.slope_end == second.slope_start != 0
    assert [first.turned, second.turned].count(True) == 1
    # Metal on the centre line: 2824 + 1944, the stroke between them 3 sqrt 2.
    assert group.totals.good == mm(4768)
    assert group.totals.used == sum(
        (group.totals.good, group.totals.kerf, group.totals.trim, group.totals.returned, group.totals.scrap)
    )


def test_an_asymmetric_section_is_never_turned() -> None:
    """The same pair on a handed section cannot share: turned, it would be the other hand."""
    handed = replace(FAMILY, symmetric=False)
    _, group = planned(
        leg("long", "2839", right=Mitre(F45)), leg("short", "1959", right=Mitre(F45)), family=handed
    )
    assert not any(cut.turned for bar in group.bars for cut in bar.cuts)
    # Unturned, "| \\" before "| \\": a square start behind a slope leaves a wedge of w/2 = 15.
    assert span(group)[0] > 4_772_242_641


def test_three_trapezoids_save_sixty_millimetres() -> None:
    """3 x 600, w 30, k 3: 1748.49 end to end, every second one turned; 1808.49 the same way round."""
    trapezoid = leg("t", "600", left=Mitre(F45), right=Mitre(F45), n=3)
    _, group = planned(trapezoid, bar="1772")
    # 8 + 1.242641 + 1748.485282 + 1.242641 + 8 = 1766.97: one bar of 1772 holds what 1808 would not.
    (bar,) = group.bars
    # Trim, two shared, one behind the last.
    assert bar.strokes == 4
    _, handed = planned(trapezoid, bar="1772", family=replace(FAMILY, symmetric=False))
    assert len(handed.bars) == 2


def test_standing_mitres_share_inside_with_outside() -> None:
    """Turning a standing piece negates its slope, so equal pieces never share, but opposite corners do."""
    inside = Mitre(F45, plane=MitrePlane.STANDING)
    outside = Mitre(F45, outside=True, plane=MitrePlane.STANDING)
    _, equal = planned(leg("a", "1000", right=inside), leg("b", "1000", right=inside))
    _, mixed = planned(leg("a", "1000", right=inside), leg("b", "1000", right=outside))
    assert mixed.bars[0].strokes == equal.bars[0].strokes - 1


def test_a_bar_that_only_holds_centre_lines_is_not_planned() -> None:
    """
    Two long legs of one corner's two faces, on a bar that would only just hold their centre lines.

    2 x 985 + 3 + 16 = 1989 <= 1990, but with the slopes they need 2 x 985 + 34.24 and tips: two bars.
    """
    _, group = planned(
        leg("a", "1000", right=Mitre(F45)),
        leg("b", "1000", left=Mitre(F45)),
        bar="1990",
        family=replace(FAMILY, symmetric=False),
    )
    assert len(group.bars) == 2
    assert group.bound <= group.cost


def test_irrational_slopes_are_safe() -> None:
    """22.5 degrees has no rational tangent; whatever is planned is sawn again by the auditor."""
    corner = Mitre(Fraction(45, 2))
    plan, group = planned(
        leg("a", "733.3", right=corner, n=5),
        leg("b", "911.7", left=corner, right=Mitre(F45), n=4),
        bar="3000",
    )
    assert plan.unplaced == ()
    assert sum(len(bar.cuts) for bar in group.bars) == 9


def test_offcuts_and_square_runs_lie_with_mitred_ones() -> None:
    """A clean end takes no trim; a square piece shares its square stroke with any square face."""
    offcut = Offcut(tag="R-1", family="Q", length=mm(1500))
    plan, group = planned(
        leg("a", "700", right=Mitre(F45)),
        leg("s", "600"),
        leg("b", "2839", right=Mitre(F45)),
        bar="3000",
        offcuts=(offcut,),
    )
    assert plan.unplaced == ()
    assert sum(bar.offcut for bar in group.bars) == 1


def test_separate_covers_are_mitred_too() -> None:
    """Channel and cover are groups of their own with the same slopes."""
    family = replace(FAMILY, cover_mode=CoverMode.SEPARATE, cover_play=mm(2))
    stock = tuple(StockLine(family="Q", part=part, length=mm(5000)) for part in Part)
    plan, _ = planned(leg("a", "2000", right=Mitre(F45), n=3), family=family, stock=stock)
    covers = next(group for group in plan.groups if group.material.part is Part.COVER)
    assert {cut.long_point for bar in covers.bars for cut in bar.cuts} == {mm(1998)}


def test_two_planes_in_one_material_are_told_apart() -> None:
    """A bar has mitres of one plane; the rarer plane is left out with its reason, not cut wrongly."""
    plan, group = planned(
        leg("a", "1000", right=Mitre(F45), n=2),
        leg("b", "900", right=Mitre(F45, plane=MitrePlane.STANDING)),
    )
    assert [out.code for out in plan.unplaced] == ["mitre-planes"]
    assert group.mitre is not None
    assert group.mitre.plane is MitrePlane.FLAT


def group_of(*runs: Run, bar: str = "5000") -> Group:
    asked = request(*runs, bar=bar)
    return split(asked, take_off(asked).pieces).chains[0][0]


def test_chains_are_nested_like_square_pieces() -> None:
    """A shared pair of one class has square ends: 2824 + 1944 + 4.242641, nothing to add."""
    group = group_of(leg("long", "2839", right=Mitre(F45)), leg("short", "1959", right=Mitre(F45)))
    near, far, singles = tied(group)
    # Nested in hundredths of a millimetre, rounded up.
    assert near.problem.lengths == far.problem.lengths == (Length(4_772_250_000),)
    # Alone: tip to tip, and the extra kerf of one slope.
    assert singles.problem.lengths == (2_840_250_000, 1_960_250_000)
    assert chain_needed(near.chains[0], near.mitre or pytest.fail("no section"), mm(3)) == 4_772_242_641
    layout = lay(near, solve(near.problem).best)
    assert layout is not None
    assert [len(one.links) for one in layout.bars] == [2]


def test_material_names_stay() -> None:
    """Mitred and square pieces of a material are one group, one order line."""
    plan, _ = planned(leg("a", "700", right=Mitre(F45)), leg("s", "600"))
    assert [group.material for group in plan.groups] == [Material("Q", "", Part.CHANNEL)]


def corner(rng: random.Random, plane: MitrePlane) -> Mitre | None:
    """Give a corner for one end in two, of rational and irrational angles, inside or outside."""
    if rng.random() < 0.5:
        return None
    angle = Fraction(rng.choice(["45", "22.5", "30", "67.7"]))
    return Mitre(angle, outside=rng.random() < 0.3, plane=plane)


@pytest.mark.parametrize("seed", range(12))
def test_any_mix_of_mitred_runs_passes_the_audit(seed: int) -> None:
    """Lengths, angles, planes, offcuts and saws at random: whatever is planned can be sawn."""
    rng = random.Random(seed)
    plane = rng.choice(list(MitrePlane))
    runs = [
        leg(
            f"r{i}",
            str(rng.randint(220, 2400)),
            left=corner(rng, plane),
            right=corner(rng, plane),
            n=rng.randint(1, 4),
        )
        for i in range(rng.randint(2, 8))
    ]
    saw = replace(SAW, head_trim=mm(rng.choice([0, 8])), tail_loss=mm(rng.choice([0, 8])))
    offcuts = tuple(
        Offcut(tag=f"o{i}", family="Q", length=mm(rng.randint(500, 2400))) for i in range(rng.randint(0, 3))
    )
    family = replace(FAMILY, symmetric=rng.random() < 0.7)
    bar = rng.choice(["3000", "5000"])
    plan, _ = planned(*runs, bar=bar, family=family, offcuts=offcuts, saw=saw)
    assert plan.unplaced == ()
