"""Caps by family, finish, hand and hole, and the demo building's boxes of them."""

from __future__ import annotations

from nesting.domain.runs import EndCondition, Run
from nesting.domain.small_parts import CapCount, CapKind, Hand
from nesting.takeoff.caps import caps_of
from nesting.units import mm
from tests.takeoff.demo_building import building

SOLID, HOLED = EndCondition.SOLID_CAP, EndCondition.HOLED_CAP


def a_run(left: EndCondition, right: EndCondition, family: str = "F", quantity: int = 1) -> Run:
    """Give a run with these ends."""
    return Run(
        job="J",
        id="r",
        family=family,
        finish="natural",
        quantity=quantity,
        length=mm(900),
        left=left,
        right=right,
    )


def test_a_symmetric_cap_fits_both_ends() -> None:
    """A left-fed and a right-fed run take from the same two boxes; copies count."""
    runs = (a_run(HOLED, SOLID, quantity=3), a_run(SOLID, HOLED))
    assert caps_of(runs) == (
        CapCount(CapKind("F", "natural", Hand.NONE, False), 4),
        CapCount(CapKind("F", "natural", Hand.NONE, True), 4),
    )


def test_a_handed_cap_is_counted_by_its_end() -> None:
    """Left and right are those of the viewer facing the lit face."""
    runs = (a_run(HOLED, SOLID, "H"), a_run(SOLID, SOLID, "H"))
    assert caps_of(runs, handed={"H"}) == (
        CapCount(CapKind("H", "natural", Hand.LEFT, False), 1),
        CapCount(CapKind("H", "natural", Hand.LEFT, True), 1),
        CapCount(CapKind("H", "natural", Hand.RIGHT, False), 2),
    )


def test_joints_and_bare_ends_take_no_cap() -> None:
    """A run between two others has nothing to close."""
    assert caps_of((a_run(EndCondition.JOINT, EndCondition.BARE),)) == ()


def test_the_demo_building_counts_its_caps() -> None:
    """Every cap of 350 runs; the corner family's caps are handed, the coves' joints take none."""
    counts = {
        (count.kind.family, count.kind.hand, count.kind.holed): count.count
        for count in caps_of(building().runs, handed={"IMBO-45A"})
    }
    symmetric = {"TOLV-17N": 96, "BRASK-20F": 120, "SARN-12R": 72, "QUEN-30M": 12}
    assert counts == {
        **{(family, Hand.NONE, holed): n for family, n in symmetric.items() for holed in (False, True)},
        **{("IMBO-45A", hand, holed): 19 for hand in (Hand.LEFT, Hand.RIGHT) for holed in (False, True)},
    }
