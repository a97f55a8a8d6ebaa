"""Plans that are hard on paper: bars cut alike, very long and foreign names, a bar of many pieces."""

from __future__ import annotations

from dataclasses import replace

from nesting.domain.material import Material, Part
from nesting.domain.pieces import Piece
from nesting.domain.plan import GroupPlan, Plan
from nesting.domain.request import Request
from nesting.domain.runs import EndCondition, Place
from nesting.domain.stock import Offcut
from nesting.units import Length, mm
from tests.reports.plans import SAW, STOCK, group_of, order_of

TOLV = Material("TOLV-17N", "natural", Part.CHANNEL)
LONG = "Upper-gallery-and-winter-garden/north-west-corner-above-the-stair " * 3
FOREIGN = ("Łazienka główna", "Ванная комната", "Κουζίνα", "חדר אורחים", "غرفة المعيشة", "居間の窓辺")


def piece(identity: str, length: Length, place: Place, material: Material = TOLV) -> Piece:
    """Give one capped channel piece with a cover cut together."""
    return Piece(
        id=identity,
        job="OY",
        run=identity,
        material=material,
        length=length,
        exact=length,
        cover_length=Length(length - mm(16)) if length > mm(16) else None,
        left=EndCondition.HOLED_CAP,
        right=EndCondition.SOLID_CAP,
        place=place,
    )


def plan_of(pieces: tuple[Piece, ...], offcuts: tuple[Offcut, ...] = (), **changes: object) -> Plan:
    """Plan pieces of TOLV-17N on bars of 2500 mm, first fit and longest first."""
    group = group_of(TOLV, pieces, (1, 0), SAW, priced=True, first=1, offcuts=offcuts, cover_follows=True)
    return plan_with(pieces, replace(group, **changes) if changes else group, offcuts)  # type: ignore[arg-type]


def plan_with(pieces: tuple[Piece, ...], group: GroupPlan, offcuts: tuple[Offcut, ...] = ()) -> Plan:
    """Put one group's bars into a plan."""
    return Plan(
        id="5d20aa17c3f8",
        request=Request(title="Orrelbeck Yard", stock=STOCK, offcuts=offcuts, saw=SAW, currency="XTS"),
        pieces=pieces,
        strips=(),
        groups=(group,),
        order=order_of((group,)),
        jobs=(),
        unplaced=(),
    )


def gang_plan() -> Plan:
    """Give ten bars cut alike, four pieces of 610 mm each, for ten units."""
    return plan_of(
        tuple(
            piece(f"OY-{unit}-{n}", mm(610), Place("Orrelbeck Yard", "3", f"OY-{unit}", "shelf", f"no. {n}"))
            for unit in range(301, 311)
            for n in range(1, 5)
        )
    )


def wild_plan() -> Plan:
    """Give pieces whose ids and places are very long, foreign, or look like formulas, and such an offcut."""
    names = (*FOREIGN, LONG.strip(), "=1+1", "-1/2 at the wall", "tab\there", "W" * 90)
    pieces = tuple(
        piece(f"{name}-{n}", mm(400 + 37 * n), Place(name, name, name, name, name))
        for n, name in enumerate(names, start=1)
    )
    tag = "OC-" + "0123456789" * 4
    return plan_of(
        pieces, (Offcut(tag=tag, family="TOLV-17N", finish="natural", length=mm(1815), place=LONG),)
    )


def crowded_plan() -> Plan:
    """Give one bar of 2500 mm with 60 pieces of 37.5 mm: more cuts than a page holds."""
    place = Place("Orrelbeck Yard", "3", "OY-301", "shelf")
    return plan_of(tuple(piece(f"OY-301-{n}", mm("37.5"), place) for n in range(1, 61)))
