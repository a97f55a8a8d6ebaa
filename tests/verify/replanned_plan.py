"""
The pencil plan after a first report: bar 6 done with a mis-cut, bar 8 stopped by damage.

Bar 6, SARN-12R, new 2000: F.1 came out as 612 instead of 670, so its tail of 646 became 704 (measured
    705): offcut T-6. F.1 is cut again from bar 9, the tail of bar 6: 705 - 670 = 35, stroke 3, tail 32.
Bar 8, UMBO-9, lot J2, new 2000: nothing was cut, damage from 900 to 910: clear are 0 to 897 and 913 to 2000.
    H is cut from the second stretch: bar 10, 1087 - 1000 = 87, stroke 3, tail 84.
"""

from __future__ import annotations

from dataclasses import replace

from nesting.domain.made import BarState, Span, Spoiled, Zone
from nesting.domain.plan import Cut, GroupPlan, Plan, PlannedBar, TailFate, Totals
from nesting.domain.stock import EndState, Offcut
from nesting.units import NO_LENGTH, Length, mm
from tests.verify.small_plan import plan


def _from_offcut(number: int, tag: str, length: int, piece: str, cut: int, tail: int) -> PlannedBar:
    return PlannedBar(
        number=number,
        source=tag,
        offcut=True,
        length=mm(length),
        head=NO_LENGTH,
        tail_loss=mm(8),
        cuts=(Cut(piece=piece, length=mm(cut), face=mm(cut)),),
        strokes=1,
        kerf_loss=mm(3),
        tail=mm(tail),
        fate=TailFate.SCRAP,
    )


def _offcut(group: GroupPlan, tag: str, length: int, left: EndState, right: EndState) -> Offcut:
    material = group.material
    return Offcut(
        tag=tag,
        family=material.family,
        finish=material.finish,
        length=mm(length),
        left=left,
        right=right,
        lot=material.lot,
    )


def replanned() -> Plan:
    """Give the plan; the auditor finds nothing wrong with it, and it follows the pencil plan."""
    before = plan()
    sarn, umbo = before.groups[1], before.groups[4]
    six = replace(
        sarn.bars[0],
        state=BarState.DONE,
        true_tail=mm(705),
        spoiled=(Spoiled("F.1", mm(612), "T-6S"),),
    )
    nine = _from_offcut(9, "T-6", 705, "F.1", 670, 32)
    eight = replace(
        umbo.bars[0],
        state=BarState.STOPPED,
        head=NO_LENGTH,
        cuts=(),
        strokes=2,
        kerf_loss=mm(6),
        tail=NO_LENGTH,
        fate=TailFate.NONE,
        tail_tag="",
        defects=(Span(mm(900), mm(910)),),
        zones=(Zone(NO_LENGTH, mm(897), "T-8a"), Zone(mm(913), mm(1087), "T-8b")),
    )
    ten = _from_offcut(10, "T-8b", 1087, "H", 1000, 84)
    raw, clean = EndState.RAW, EndState.CLEAN
    born = (
        _offcut(sarn, "T-6", 705, clean, raw),
        _offcut(sarn, "T-6S", 612, clean, clean),
        _offcut(umbo, "T-8a", 897, raw, clean),
        _offcut(umbo, "T-8b", 1087, clean, raw),
    )
    groups = (
        before.groups[0],
        # Bar 6: 670 good, 670 and 646 on the rack; bar 9: 705 = 670 + 3 + 32.
        replace(
            sarn,
            bars=(six, nine),
            totals=_totals(2, 2705, 1340, 9, 8, 1316, 32),
            certificate=None,
        ),
        *before.groups[2:4],
        # Bar 8: 897 and 1087 on the rack, 6 chips, 10 damaged; bar 10: 1087 = 1000 + 3 + 84.
        replace(umbo, bars=(eight, ten), totals=_totals(2, 3087, 1000, 9, 0, 1984, 94)),
    )
    jobs = tuple(
        # J1 keeps what bar 6 gave back more (670), and uses up bar 9; J2 uses up 2000 - 1984 and bar 10.
        replace(job, consumed=Length(job.consumed + more))
        for job, more in zip(before.jobs, (mm(705) - mm(670), mm(1087 + 16) - mm(2000 - 989)), strict=True)
    )
    return replace(
        before,
        id="fedcba987654",
        request=replace(before.request, offcuts=(*before.request.offcuts, *born)),
        groups=groups,
        jobs=jobs,
        follows=before.id,
        revision=1,
    )


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
