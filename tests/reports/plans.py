"""A small building planned by hand rules: first fit, longest first. Consistent, and not always the least."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from nesting.domain.material import CapStyle, CoverMode, Family, Material, Part
from nesting.domain.pieces import Piece, StripCut
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
from nesting.domain.progress import StopReason
from nesting.domain.request import Request
from nesting.domain.rules import SawRules
from nesting.domain.runs import EndCondition, Place, Run
from nesting.domain.stock import EndState, Offcut, StockLine
from nesting.errors import Finding, Severity, Where
from nesting.money import Money, read_money
from nesting.units import NO_LENGTH, Length, inches, mm

SAW = SawRules(
    kerf=mm(3), head_trim=mm(8), tail_loss=mm(8), keep_length=mm(400), grip=mm(150), step=mm("0.5")
)
COVER_SAW = replace(SAW, kerf=mm("2.5"), step=NO_LENGTH)

TOLV = Material("TOLV-17N", "natural", Part.CHANNEL)
BRASK = Material("BRASK-20F", "umber", Part.CHANNEL, "OY")
SARN = Material("SARN-12R", "natural", Part.CHANNEL)
SARN_COVER = Material("SARN-12R", "natural", Part.COVER)

FAMILIES = (
    Family(
        name="TOLV-17N",
        cap_style=CapStyle.NOSE,
        cap_thickness=mm("1.5"),
        nose=mm(8),
        cover_mode=CoverMode.OFFSET,
    ),
    Family(name="BRASK-20F", cap_thickness=mm(2), cover_mode=CoverMode.FLUSH),
    Family(name="SARN-12R", cap_style=CapStyle.INNER, nose=mm(5), cover_mode=CoverMode.SEPARATE),
)
STOCK = (
    StockLine(family="TOLV-17N", finish="natural", length=mm(2000), price=read_money("11.40")),
    StockLine(family="TOLV-17N", finish="natural", length=mm(2500), price=read_money("14.00")),
    StockLine(family="BRASK-20F", finish="umber", length=mm(3000), price=read_money("18.60")),
    StockLine(family="SARN-12R", finish="natural", length=mm(3500)),
    StockLine(family="SARN-12R", finish="natural", part=Part.COVER, length=mm(3000)),
)
OFFCUTS = (
    Offcut(tag="OC-0112", family="TOLV-17N", finish="natural", length=mm(1815), place="B3"),
    # Two clean faces: 592 leaves 2.5 mm, less than a kerf, so its last stroke is a sliver.
    Offcut(
        tag="OC-0107",
        family="TOLV-17N",
        finish="natural",
        length=mm("594.5"),
        place="B3",
        right=EndState.CLEAN,
    ),
    Offcut(tag="OC-0098", family="SARN-12R", finish="natural", length=mm(412), place="A1"),
)


def example_plan() -> Plan:
    """Give two jobs on four materials: offcuts, a jointed run, covers, tails of both fates, one left out."""
    pieces = (*_tolv(), *_brask(), *_sarn())
    groups = (
        group_of(BRASK, pieces, (2,), SAW, priced=True, first=1, cover_follows=True),
        group_of(SARN, pieces, (3,), SAW, priced=False, first=4),
        group_of(SARN_COVER, pieces, (4,), COVER_SAW, priced=False, first=7),
        group_of(TOLV, pieces, (1, 0), SAW, priced=True, first=10, gap=32_000, offcuts=OFFCUTS[:2]),
    )
    return Plan(
        id="7c1f2e90ab34",
        request=Request(
            title="Orrelbeck Yard, floors 3 and 4",
            runs=_runs(pieces),
            families=FAMILIES,
            stock=STOCK,
            offcuts=OFFCUTS,
            saw=SAW,
            cover_saw=COVER_SAW,
            currency="XTS",
        ),
        pieces=pieces,
        # Formula: m = floor((A - n_L - n_R - 20 - 3) / p). OY-304-1: (1803.5 - 39) / 50 = 35.29;
        # OY-305-4, at 50/3 a mark: (920.75 - 39) / (50/3) = 52.905, and 53 marks need 922 1/3.
        strips=(
            StripCut(
                job="OY",
                run="OY-304-1",
                quantity=2,
                marks=35,
                length=mm(1750),
                dark=mm("37.5"),
                for_next_mark=mm(1839),
            ),
            StripCut(
                job="OY",
                run="OY-305-4",
                quantity=1,
                marks=52,
                length=Length(866_666_666),
                dark=Length(38_083_334),
                for_next_mark=Length(922_333_334),
            ),
        ),
        groups=groups,
        order=order_of(groups),
        jobs=shares_of(groups, pieces),
        unplaced=(
            Unplaced(
                job="RUSH",
                run="R-7",
                piece="R-7",
                length=mm(5400),
                reason="Longer than any bar, and joints are off for this run.",
                code="too-long",
                where=Where("Runs", "F31"),
            ),
        ),
        findings=(
            Finding(
                severity=Severity.WARNING,
                code="same-id-twice",
                where=Where("Runs", "A12"),
                found="OY-305-2",
                message="This id is used twice in the job; the second is read as OY-305-2b.",
            ),
            Finding(
                severity=Severity.NOTE,
                code="note-kept",
                where=Where("Runs", "K9"),
                found="-1/2 at the wall",
                message="Kept as a note, not read as a length.",
            ),
        ),
        seed=7,
    )


def empty_plan() -> Plan:
    """Give a plan of nothing."""
    request = Request(saw=SAW)
    return Plan(
        id="0", request=request, pieces=(), strips=(), groups=(), order=(), jobs=(), unplaced=(), findings=()
    )


def group_of(
    material: Material,
    pieces: Sequence[Piece],
    stock: Sequence[int],
    saw: SawRules,
    *,
    priced: bool,
    first: int,
    gap: int = 0,
    offcuts: Sequence[Offcut] = (),
    cover_follows: bool = False,
) -> GroupPlan:
    """
    Fill offcuts, then new bars, first fit and longest first; the last new bar takes the shortest that holds.

    Parameters
    ----------
    stock
        Indices into ``STOCK``, the one to open first in front.
    gap
        How far below the cost the bound is said to lie.
    """
    todo = sorted((p for p in pieces if p.material == material), key=lambda p: -p.length)
    sources = [(o.tag, o.length, *o.losses(saw)) for o in offcuts]
    bars: list[PlannedBar] = []
    while todo:
        if sources:
            key, length, head, tail = sources.pop(0)
        else:
            total = sum(p.length + saw.kerf for p in todo)
            fits = [i for i in stock if total + saw.head_trim + saw.tail_loss <= STOCK[i].length]
            index = min(fits or stock[:1], key=lambda i: STOCK[i].length)
            key, length, head, tail = f"stock:{index}", STOCK[index].length, saw.head_trim, saw.tail_loss
        room = length - head - tail + saw.kerf
        chosen: list[Piece] = []
        for piece in todo:
            if piece.length + saw.kerf <= room:
                room -= piece.length + saw.kerf
                chosen.append(piece)
        if chosen:
            todo = [p for p in todo if p not in chosen]
            number = first + len(bars)
            bars.append(_bar(number, key, length, head, tail, chosen, saw))
    bought = [STOCK[int(bar.source.split(":")[1])] for bar in bars if not bar.offcut]
    cost = sum(line.price or 0 for line in bought) if priced else len(bought)
    return GroupPlan(
        material=material,
        saw=saw,
        bars=tuple(bars),
        priced=priced,
        cost=cost,
        bound=cost - gap,
        ended=StopReason.TIME if gap else StopReason.PROVED,
        seconds=0.25,
        totals=account_of(bars),
        cover_follows=cover_follows,
    )


def _bar(
    number: int, key: str, length: Length, head: Length, tail_loss: Length, pieces: list[Piece], saw: SawRules
) -> PlannedBar:
    cuts = []
    face, left = 0, int(length - head)
    for piece in pieces:
        face += piece.length
        left -= piece.length + saw.kerf
        held = left >= saw.grip or piece.length >= saw.grip
        cuts.append(Cut(piece.id, piece.length, Length(face), held))
        face += saw.kerf
    rest = length - head - (face - saw.kerf)
    tail = Length(max(rest - saw.kerf, 0))
    fate = TailFate.OFFCUT if tail >= saw.keep_length else TailFate.SCRAP if tail else TailFate.NONE
    return PlannedBar(
        number=number,
        source=key,
        offcut=not key.startswith("stock:"),
        length=length,
        head=head,
        tail_loss=tail_loss,
        cuts=tuple(cuts),
        strokes=len(cuts) - (rest == 0) + (head > 0),
        kerf_loss=Length((len(cuts) - 1) * saw.kerf + min(rest, saw.kerf)),
        tail=tail,
        fate=fate,
        tail_tag=f"7C1F-{number}" if fate is TailFate.OFFCUT else "",
        sliver=0 < rest < saw.kerf,
    )


def account_of(bars: Sequence[PlannedBar]) -> Totals:
    """Give the metal account of some bars."""
    return Totals(
        bars=len(bars),
        used=sum(b.length for b in bars),
        good=sum(c.length for b in bars for c in b.cuts),
        kerf=sum(b.kerf_loss for b in bars),
        trim=sum(b.head for b in bars),
        returned=sum(b.tail for b in bars if b.fate is TailFate.OFFCUT),
        scrap=sum(b.tail for b in bars if b.fate is TailFate.SCRAP),
    )


def order_of(groups: Sequence[GroupPlan]) -> tuple[OrderLine, ...]:
    """Give one order line per material and stock length."""
    needed = Counter((g.material, b.source) for g in groups for b in g.bars if not b.offcut)
    lines = []
    for (material, key), bars in sorted(needed.items()):
        stock = STOCK[int(key.split(":")[1])]
        total = None if stock.price is None else Money(stock.price * bars)
        note = "with its cover" if material == BRASK else ""
        lines.append(
            OrderLine(
                family=material.family,
                finish=material.finish,
                part=material.part.value,
                lot=material.lot,
                length=stock.length,
                bars=bars,
                price=stock.price,
                sum=total,
                note=note,
            )
        )
    return tuple(lines)


def shares_of(groups: Sequence[GroupPlan], pieces: Sequence[Piece]) -> tuple[JobShare, ...]:
    """Share metal and money by the pieces' lengths; the last job takes what rounding leaves."""
    placed = {cut.piece for group in groups for bar in group.bars for cut in bar.cuts}
    totals = sum((group.totals for group in groups), Totals())
    spent, money = totals.used - totals.returned, sum(g.cost for g in groups if g.priced)
    jobs = sorted({p.job for p in pieces})
    good = {job: sum(p.length for p in pieces if p.job == job and p.id in placed) for job in jobs}
    shares: list[JobShare] = []
    for job in jobs:
        last = job == jobs[-1]
        consumed = spent - sum(s.consumed for s in shares) if last else spent * good[job] // totals.good
        cost = money - sum(s.cost for s in shares) if last else money * good[job] // totals.good
        count = sum(1 for p in pieces if p.job == job and p.id in placed)
        shares.append(JobShare(job=job, pieces=count, good=good[job], consumed=consumed, cost=Money(cost)))
    return tuple(shares)


def _tolv() -> list[Piece]:
    rooms = {"living": mm("1803.5"), "mirror": mm("777.5"), "niche": mm(592), "desk": inches("36 1/4")}
    pieces = [
        _piece(TOLV, "OY", f"OY-{floor}{stack:02}-{n}", room, floor, length)
        for floor in (3, 4)
        for stack in (4, 5)
        for n, (room, length) in enumerate(rooms.items(), start=1)
    ]
    rush = [_piece(TOLV, "RUSH", f"R-{n}", "lobby", 0, mm(1240)) for n in (1, 2, 3)]
    return [replace(p, cover_length=Length(p.length - mm(16))) for p in (*pieces, *rush)]


def _brask() -> list[Piece]:
    whole = [
        _piece(BRASK, "OY", f"OY-30{n}-6", "kitchen", 3, mm(length))
        for n, length in enumerate((1176, 976), 4)
    ]
    cove = [
        replace(
            _piece(BRASK, "OY", f"OY-304-7/{n}", "hall", 3, mm(1778)),
            run="OY-304-7",
            section=n,
            sections=3,
            left=EndCondition.SOLID_CAP if n == 1 else EndCondition.JOINT,
            right=EndCondition.HOLED_CAP if n == 3 else EndCondition.JOINT,
        )
        for n in (1, 2, 3)
    ]
    short = [_piece(BRASK, "OY", f"OY-305-8.{n}", "shelf", 3, mm(124)) for n in (1, 2)]
    short = [replace(p, run="OY-305-8", copy=n) for n, p in enumerate(short, start=1)]
    return [replace(p, cover_length=p.length) for p in (*whole, *cove, *short)]


def _sarn() -> list[Piece]:
    made = []
    for n, length in enumerate((1460, 1460, 1460, 1140, 1140, 870), start=1):
        channel = _piece(SARN, "OY", f"OY-306-{n}", "ceiling", 3, mm(length))
        cover = _piece(SARN_COVER, "OY", f"OY-306-{n}c", "ceiling", 3, mm(length - 10))
        made += [channel, replace(cover, run=channel.run)]
    return made


def _piece(material: Material, job: str, run: str, room: str, floor: int, length: Length) -> Piece:
    # Rounded down to the half millimetre of the saw, as an opening would be.
    step = SAW.step if material.part is Part.CHANNEL else Length(1)
    place = Place("Orrelbeck Yard", str(floor), run.rsplit("-", 1)[0], room) if floor else Place(room=room)
    return Piece(
        id=run,
        job=job,
        run=run,
        material=material,
        length=Length(length // step * step),
        exact=length,
        left=EndCondition.HOLED_CAP,
        right=EndCondition.SOLID_CAP,
        place=place,
        where=Where("Runs", "A7"),
    )


def _runs(pieces: Sequence[Piece]) -> tuple[Run, ...]:
    runs = {
        (p.job, p.run): Run(
            job=p.job,
            id=p.run,
            family=p.material.family,
            finish=p.material.finish,
            length=mm(1000),
            place=p.place,
            note="=see drawing 12" if p.run == "OY-304-1" else "",
            extra=(("Drawing", "-1/2 rev C"), ("Room", p.place.room.upper())) if p.job == "OY" else (),
        )
        for p in pieces
    }
    return tuple(runs.values())
