"""
A plan small enough to check with a pencil, built by hand: the auditor's patient.

Saw: kerf 3, head trim 8, tail loss 8, keep 400, grip 150, all in mm.

Bar 1, TOLV-17N natural, offcut R-17 of 1250 (clean and raw end): 592 + 3 + 592 = 1187 behind a
    clean face, rest 63, stroke 3, tail 60: scrap.
Bar 2, TOLV-17N natural, new 2500: 8 + 1803 + 3 + 592 = 2406, rest 94, stroke 3, tail 91: scrap.
Bars 3 and 4, TOLV-17N natural, new 2000, two sections of a jointed run: opening 3612, clearance
    1.5 and cap 1.5 at both ends: 3606, two sections of 1803. 8 + 1803 = 1811, rest 189, tail 186.
Bar 5, BRASK-20F, new 2000 with cover 2000: 1176 + 3 + 416: 8 + 1595 = 1603, rest 397, tail 394.
Bar 6, SARN-12R channel, new 2000: 670 + 3 + 670: 8 + 1343 = 1351, rest 649, tail 646: offcut T-6.
Bar 7, SARN-12R cover, new 2000: 660 + 3 + 660 (nose 5 at both ends): rest 669, tail 666: offcut T-7.
Bar 8, UMBO-9 umber, lot J2, new 2000: 1000: rest 992, tail 989: offcut T-8. No price known.
"""

from __future__ import annotations

from nesting.domain.material import CapStyle, CoverMode, Family, LotRule, Material, Part
from nesting.domain.pieces import Piece
from nesting.domain.plan import (
    Cut,
    GroupPlan,
    JobShare,
    OrderLine,
    Plan,
    PlannedBar,
    TailFate,
    Totals,
    Unplaced,
)
from nesting.domain.progress import Certificate, StopReason
from nesting.domain.request import Request
from nesting.domain.rules import SawRules
from nesting.domain.runs import EndCondition, LengthKind, PieceLine, Run
from nesting.domain.stock import Offcut, StockLine
from nesting.money import Money
from nesting.units import NO_LENGTH, Length, mm

CAP = EndCondition.SOLID_CAP
JOINT = EndCondition.JOINT
SAW = SawRules(kerf=mm(3), head_trim=mm(8), tail_loss=mm(8), keep_length=mm(400), grip=mm(150))


def request() -> Request:
    """Give what the plan was asked for: two jobs, four families, one offcut."""
    return Request(
        title="Orrelbeck Yard",
        runs=(
            Run(job="J1", id="A", family="TOLV-17N", finish="natural", length=mm(598), quantity=3,
                kind=LengthKind.OPENING),
            Run(job="J2", id="B", family="TOLV-17N", finish="natural", length=mm(1809),
                kind=LengthKind.OPENING),
            Run(job="J1", id="C", family="TOLV-17N", finish="natural", length=mm(3612),
                kind=LengthKind.OPENING),
            Run(job="J1", id="D", family="BRASK-20F", length=mm(1180)),
            Run(job="J2", id="E", family="BRASK-20F", length=mm(420), right=EndCondition.HOLED_CAP),
            Run(job="J1", id="F", family="SARN-12R", length=mm(670), quantity=2),
            Run(job="J1", id="G", family="NOWHERE", length=mm(500)),
            Run(job="J2", id="H", family="UMBO-9", finish="umber", length=mm(1000), kind=LengthKind.CHANNEL),
        ),
        piece_lines=(PieceLine(job="J1", id="P", family="BRASK-20F", length=mm(2200)),),
        families=(
            Family(name="TOLV-17N", cap_style=CapStyle.NOSE, cap_thickness=mm("1.5"), nose=mm(8),
                   clearance=mm("1.5"), cover_mode=CoverMode.OFFSET),
            Family(name="BRASK-20F", cap_thickness=mm(2), cover_mode=CoverMode.FLUSH),
            Family(name="SARN-12R", cap_style=CapStyle.INNER, nose=mm(5), cover_mode=CoverMode.SEPARATE),
            Family(name="UMBO-9", lot_rule=LotRule.JOB),
        ),
        stock=(
            StockLine(family="TOLV-17N", finish="natural", length=mm(2000), price=Money(114_000), count=4),
            StockLine(family="TOLV-17N", finish="natural", length=mm(2500), price=Money(140_000)),
            StockLine(family="BRASK-20F", length=mm(2000), price=Money(100_000)),
            StockLine(family="BRASK-20F", part=Part.COVER, length=mm(2000), price=Money(28_000), count=2),
            StockLine(family="SARN-12R", length=mm(2000), price=Money(96_000)),
            StockLine(family="SARN-12R", part=Part.COVER, length=mm(2000), price=Money(20_000)),
            StockLine(family="UMBO-9", finish="umber", length=mm(2000)),
        ),
        offcuts=(
            Offcut(tag="R-17", family="TOLV-17N", finish="natural", length=mm(1250), value=Money(20_000)),
            Offcut(tag="R-18", family="UMBO-9", finish="umber", length=mm(1500), lot="old"),
        ),
        saw=SAW,
        currency="XTS",
    )  # fmt: skip


TOLV = Material("TOLV-17N", "natural", Part.CHANNEL)
BRASK = Material("BRASK-20F", "", Part.CHANNEL)
SARN = Material("SARN-12R", "", Part.CHANNEL)
SARN_COVER = Material("SARN-12R", "", Part.COVER)
UMBO = Material("UMBO-9", "umber", Part.CHANNEL, "J2")


def _piece(
    name: str,
    job: str,
    material: Material,
    length: str,
    *,
    run: str = "",
    copy: int = 1,
    cover: str | None = None,
    section: int = 1,
    sections: int = 1,
    left: EndCondition = CAP,
    right: EndCondition = CAP,
) -> Piece:
    return Piece(
        id=name,
        job=job,
        run=run or name[0],
        copy=copy,
        section=section,
        sections=sections,
        material=material,
        length=mm(length),
        exact=mm(length),
        cover_length=None if cover is None else mm(cover),
        left=left,
        right=right,
    )


def _pieces() -> tuple[Piece, ...]:
    bare = EndCondition.BARE
    return (
        # Opening 598, clearance 1.5 and cap 1.5 at both ends: 592; nose 8 at both ends: 576.
        *(_piece(f"A.{n}", "J1", TOLV, "592", copy=n, cover="576") for n in (1, 2, 3)),
        _piece("B", "J2", TOLV, "1803", cover="1787"),
        _piece("C/1", "J1", TOLV, "1803", cover="1795", section=1, sections=2, right=JOINT),
        _piece("C/2", "J1", TOLV, "1803", cover="1795", section=2, sections=2, left=JOINT),
        _piece("D", "J1", BRASK, "1176", cover="1176"),
        _piece("E", "J2", BRASK, "416", cover="416", right=EndCondition.HOLED_CAP),
        *(_piece(f"F.{n}", "J1", SARN, "670", copy=n) for n in (1, 2)),
        *(_piece(f"F.{n}c", "J1", SARN_COVER, "660", copy=n) for n in (1, 2)),
        _piece("H", "J2", UMBO, "1000"),
        _piece("P", "J1", BRASK, "2200", left=bare, right=bare),
    )


def _bar(
    number: int,
    source: str,
    length: int,
    cuts: tuple[Cut, ...],
    *,
    strokes: int,
    kerf: int,
    tail: int,
    tag: str = "",
    offcut: bool = False,
) -> PlannedBar:
    return PlannedBar(
        number=number,
        source=source,
        offcut=offcut,
        length=mm(length),
        head=NO_LENGTH if offcut else mm(8),
        tail_loss=mm(8),
        cuts=cuts,
        strokes=strokes,
        kerf_loss=mm(kerf),
        tail=mm(tail),
        fate=TailFate.OFFCUT if tag else TailFate.SCRAP,
        tail_tag=tag,
    )


def _cut(piece: str, length: int, face: int, held: bool = True) -> Cut:
    return Cut(piece=piece, length=mm(length), face=mm(face), held=held)


def _totals(bars: int, used: int, good: int, kerf: int, trim: int, returned: int, scrap: int) -> Totals:
    return Totals(
        bars=bars,
        used=mm(used),
        good=mm(good),
        kerf=mm(kerf),
        trim=mm(trim),
        returned=mm(returned),
        scrap=mm(scrap),
    )


def _group(
    material: Material,
    bars: tuple[PlannedBar, ...],
    cost: int,
    bound: int,
    totals: Totals,
    *,
    priced: bool = True,
    follows: bool = False,
    certificate: Certificate | None = None,
) -> GroupPlan:
    return GroupPlan(
        material=material,
        saw=SAW,
        bars=bars,
        priced=priced,
        cost=cost,
        bound=bound,
        ended=StopReason.PROVED if bound >= cost else StopReason.TIME,
        seconds=0.25,
        totals=totals,
        cover_follows=follows,
        certificate=certificate,
    )


def _groups() -> tuple[GroupPlan, ...]:
    tolv = (
        _bar(1, "R-17", 1250, (_cut("A.1", 592, 592), _cut("A.2", 592, 1187)), strokes=2, kerf=6, tail=60,
             offcut=True),
        _bar(2, "stock:1", 2500, (_cut("B", 1803, 1803), _cut("A.3", 592, 2398)), strokes=3, kerf=6, tail=91),
        _bar(3, "stock:0", 2000, (_cut("C/1", 1803, 1803),), strokes=2, kerf=3, tail=186),
        _bar(4, "stock:0", 2000, (_cut("C/2", 1803, 1803),), strokes=2, kerf=3, tail=186),
    )  # fmt: skip
    brask = (
        _bar(5, "stock:2", 2000, (_cut("D", 1176, 1176), _cut("E", 416, 1595)), strokes=3, kerf=6, tail=394),
    )
    sarn = (
        _bar(6, "stock:4", 2000, (_cut("F.1", 670, 670), _cut("F.2", 670, 1343)), strokes=3, kerf=6, tail=646,
             tag="T-6"),
    )  # fmt: skip
    cover = (
        _bar(7, "stock:5", 2000, (_cut("F.1c", 660, 660), _cut("F.2c", 660, 1323)), strokes=3, kerf=6,
             tail=666, tag="T-7"),
    )  # fmt: skip
    umbo = (_bar(8, "stock:6", 2000, (_cut("H", 1000, 1000),), strokes=2, kerf=3, tail=989, tag="T-8"),)
    return (
        # 100000 + 28000: the cover bar goes with its channel bar.
        _group(BRASK, brask, 128_000, 128_000, _totals(1, 2000, 1592, 6, 8, 0, 394), follows=True,
               certificate=Certificate(bound=128_000, duals=(128_000, 0), scale=1, dual_bound=128_000)),
        _group(SARN, sarn, 96_000, 96_000, _totals(1, 2000, 1340, 6, 8, 646, 0),
               certificate=Certificate(bound=96_000, duals=(48_000,), scale=1, dual_bound=96_000)),
        _group(SARN_COVER, cover, 20_000, 10_000, _totals(1, 2000, 1320, 6, 8, 666, 0)),
        # 20000 + 140000 + 2 x 114000 = 388000.
        _group(TOLV, tolv, 388_000, 388_000, _totals(4, 7750, 7185, 18, 24, 0, 523), follows=True),
        _group(UMBO, umbo, 1, 1, _totals(1, 2000, 1000, 3, 8, 989, 0), priced=False),
    )  # fmt: skip


def plan() -> Plan:
    """Give the plan; the auditor finds nothing wrong with it."""
    return Plan(
        id="0123456789ab",
        request=request(),
        pieces=_pieces(),
        strips=(),
        groups=_groups(),
        order=(
            _order("BRASK-20F", "", "channel", 2000, 1, 100_000),
            _order("BRASK-20F", "", "cover", 2000, 1, 28_000),
            _order("SARN-12R", "", "channel", 2000, 1, 96_000),
            _order("SARN-12R", "", "cover", 2000, 1, 20_000),
            _order("TOLV-17N", "natural", "channel", 2000, 2, 114_000),
            _order("TOLV-17N", "natural", "channel", 2500, 1, 140_000),
            _order("UMBO-9", "umber", "channel", 2000, 1, None, lot="J2"),
        ),
        jobs=_jobs(),
        unplaced=(
            Unplaced(job="J1", run="G", piece="", length=mm(500), reason="no such family",
                     code="family-unknown"),
            Unplaced(job="J1", run="P", piece="P", length=mm(2200), reason="longer than any bar",
                     code="too-long"),
        ),
    )  # fmt: skip


def _order(
    family: str, finish: str, part: str, length: int, bars: int, price: int | None, lot: str = ""
) -> OrderLine:
    return OrderLine(
        family=family,
        finish=finish,
        part=part,
        lot=lot,
        length=mm(length),
        bars=bars,
        price=None if price is None else Money(price),
        sum=None if price is None else Money(price * bars),
    )


def _jobs() -> tuple[JobShare, ...]:
    """
    Share bars 2 and 5 by good length, the others whole.

    Bar 2, 2500 mm and 140000, no tail kept: J1 592 of 2395, J2 1803 of 2395.
    Bar 5, 2000 mm and 128000, no tail kept: J1 1176 of 1592, J2 416 of 1592.
    Neither is whole, so the spare nanometre and the spare money may go either way.
    """
    bar_2 = Length(2500 * 592 * 10**6 // 2395) + 1
    bar_5 = Length(2000 * 1176 * 10**6 // 1592) + 1
    money_2, money_5 = 140_000 * 592 // 2395 + 1, 128_000 * 1176 // 1592
    # J1 alone: bars 1, 3, 4, and what bars 6 and 7 do not give back.
    alone = mm(1250 + 2000 + 2000 + (2000 - 646) + (2000 - 666))
    money_alone = 20_000 + 2 * 114_000 + 96_000 + 20_000
    return (
        JobShare(
            job="J1",
            pieces=10,
            good=mm(3 * 592 + 2 * 1803 + 1176 + 2 * 670 + 2 * 660),
            consumed=alone + bar_2 + bar_5,
            cost=Money(money_alone + money_2 + money_5),
        ),
        JobShare(
            job="J2",
            pieces=3,
            good=mm(1803 + 416 + 1000),
            consumed=mm(2500 + 2000 + (2000 - 989)) - bar_2 - bar_5,
            cost=Money(140_000 + 128_000 - money_2 - money_5),
        ),
    )
