"""Plans whose bars show what is rare: nothing to hold, a blade in air, no last stroke, sizes unverified."""

from __future__ import annotations

from fractions import Fraction
from functools import cache

from api.pages.saw.outcome import STATE_WORDS, Result
from api.pages.saw.sheet import Sheet, Sheets, Source
from api.plans.states import BarState
from nesting.batch.pool import Limits
from nesting.batch.run import plan_request
from nesting.domain.plan import Plan
from nesting.domain.request import Request
from nesting.domain.rules import SawRules
from nesting.domain.runs import PieceLine, Place
from nesting.domain.status import Status
from nesting.domain.stock import StockLine
from nesting.reports.lengths import METRIC, BothUnits
from nesting.units import mm

CLEAN = SawRules(kerf=mm(3), keep_length=mm(400), grip=mm(150))
TRIMMED = SawRules(kerf=mm(3), head_trim=mm(8), tail_loss=mm(8), keep_length=mm(400), grip=mm(150))
OPEN = Result(state=BarState.OPEN, words=STATE_WORDS[BarState.OPEN])


@cache
def plan_of(
    lengths: tuple[str, ...], bar: int, saw: SawRules = CLEAN, status: Status = Status.MEASURED
) -> Plan:
    """Plan pieces of some lengths in millimetres on bars of one length."""
    lines = tuple(
        PieceLine(
            job="OY",
            id=f"L{number}",
            family="TOLV-17N",
            finish="natural",
            length=mm(Fraction(length)),
            place=Place(unit="101", room="hall"),
            status=status,
        )
        for number, length in enumerate(lengths, start=1)
    )
    stock = (StockLine(family="TOLV-17N", finish="natural", length=mm(bar)),)
    request = Request(title="Orrelbeck Yard", piece_lines=lines, stock=stock, saw=saw)
    return plan_request(request, Limits(seconds=20, processes=1))


def sheet_of(plan: Plan, number: int = 1, lengths: BothUnits = METRIC, source: Source | None = None) -> Sheet:
    """Set out a bar that is still to be cut."""
    return Sheets(plan, lengths).sheet(number, source or Source(), OPEN)
