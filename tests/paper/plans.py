"""Plans that are hard on paper: bars cut alike, very long and foreign names, a bar of many pieces."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from nesting.domain.material import Material, Part
from nesting.domain.pieces import Piece
from nesting.domain.plan import Cut, GroupPlan, Plan
from nesting.domain.progress import StopReason
from nesting.domain.reels import PlannedReel, ReelCut, ReelPlan
from nesting.domain.request import Request
from nesting.domain.runs import EndCondition, Place
from nesting.domain.small_parts import (
    AdhesiveLine,
    CapCount,
    CapKind,
    ConnectorLine,
    Hand,
    PartCount,
    SmallParts,
    StripLine,
)
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


def mitred_plan() -> Plan:
    """Give the gang's plan with every first piece mitred at its right end, in every other bar turned."""
    plan = gang_plan()
    (group,) = plan.groups
    bars = tuple(
        replace(bar, cuts=(_mitred(bar.cuts[0], turned=bar.number % 2 == 0), *bar.cuts[1:]))
        for bar in group.bars
    )
    return replace(plan, groups=(replace(group, bars=bars),))


def _mitred(cut: Cut, *, turned: bool) -> Cut:
    return replace(cut, long_point=mm(617), slope_end=Fraction(-45, 2), turned=turned)


def wild_plan() -> Plan:
    """Give pieces whose ids and places are very long, foreign, or look like formulas, and such an offcut."""
    names = (*FOREIGN, LONG.strip(), "=1+1", "-1/2 at the wall", "tab\there", "W" * 90)
    pieces = tuple(
        piece(f"{name}-{n}", mm(400 + 37 * n), Place(name, name, name, name, name))
        for n, name in enumerate(names, start=1)
    )
    tag = "OC-" + "0123456789" * 4
    plan = plan_of(
        pieces, (Offcut(tag=tag, family="TOLV-17N", finish="natural", length=mm(1815), place=LONG),)
    )
    return replace(
        plan,
        small_parts=SmallParts(
            caps=tuple(CapCount(CapKind(n, n, Hand.RIGHT, holed=True), 10**7) for n in names),
            clips=tuple(PartCount(n, n, 10**7) for n in names),
            adhesive=tuple(AdhesiveLine(n, n, 10**16 + 1) for n in names),
            connectors=tuple(ConnectorLine(family=n, feeds=10**7, jumpers=10**7) for n in names),
            strips=tuple(strip_line(n, 10**7) for n in names),
        ),
        reels=tuple(reel_plan(n, (n, n)) for n in names),
    )


def crowded_plan() -> Plan:
    """Give one bar of 2500 mm with 60 pieces of 37.5 mm: more cuts than a page holds."""
    place = Place("Orrelbeck Yard", "3", "OY-301", "shelf")
    return plan_of(tuple(piece(f"OY-301-{n}", mm("37.5"), place) for n in range(1, 61)))


def strip_line(name: str, outputs: int) -> StripLine:
    """Give 1.8 m of strip at 9.6 W a metre: 17.28 W of load, 17.28 / 0.8 = 21.6 W of driver."""
    return StripLine(
        strip=name,
        pieces=2,
        length=1_800_000_000,
        watts=Fraction("17.28"),
        driver_watts=Fraction("21.6"),
        outputs=outputs,
        output_watts=Fraction(96),
    )


def reel_plan(strip: str, first: tuple[str, str]) -> ReelPlan:
    """Give two reels of 100 marks of 50 mm: 17 and 18 marks off the first, 90 off the second."""
    cuts = tuple(
        ReelCut(job="OY", run=run, copy=1, part=1, marks=marks)
        for run, marks in zip(first, (17, 18), strict=True)
    )
    last = ReelCut(job="OY", run="OY-302-4", copy=3, part=2, marks=90)
    return ReelPlan(
        strip=strip,
        pitch=Fraction(mm(50)),
        reel=mm(5000),
        marks=100,
        solder_every=None,
        reach=mm(0),
        reels=(PlannedReel(number=1, cuts=cuts, rest=65), PlannedReel(number=2, cuts=(last,), rest=10)),
        bound=2,
        ended=StopReason.PROVED,
    )


def small_parts_plan() -> Plan:
    """Give the gang's plan with small parts of every kind, no two counts alike, and strip on two reels."""
    return replace(
        gang_plan(),
        small_parts=SmallParts(
            caps=(
                CapCount(CapKind("SARN-12R", "natural", Hand.LEFT, holed=True), 41),
                CapCount(CapKind("SARN-12R", "natural", Hand.RIGHT, holed=False), 43),
                CapCount(CapKind("TOLV-17N", "umber", Hand.NONE, holed=True), 47),
            ),
            clips=(PartCount("TOLV-17N", "umber", 53),),
            joint_sets=(PartCount("BRASK-20F", "umber", 59),),
            connectors=(ConnectorLine(family="TOLV-17N", feeds=61, jumpers=67),),
            adhesive=(AdhesiveLine("TOLV-17N", "umber", 3_660_000_100),),
            strips=(strip_line("W-24", 1),),
        ),
        reels=(reel_plan("W-24/R", ("OY-301-1", "OY-301-2")),),
    )
