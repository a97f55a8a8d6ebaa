"""Mitred runs planned from end to end, each plan audited by geometry of the auditor's own."""

from __future__ import annotations

import random
from dataclasses import replace
from fractions import Fraction

import pytest

from nesting.domain.material import CoverMode, Material, Part
from nesting.domain.mitre import Mitre, MitrePlane
from nesting.domain.stock import Offcut, StockLine
from nesting.units import mm
from tests.planning.mitred_shop import F45, FAMILY, SAW, leg, planned


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
