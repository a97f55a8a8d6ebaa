"""What the comparing process finds out, and how it is written down."""

import time

from api.processes.advisor import (
    Growth,
    grown,
    read_comparison,
    read_growth,
    write_comparison,
    write_growth,
)
from nesting.advice.compare import compare
from nesting.batch.pool import Limits
from nesting.batch.run import plan_request
from nesting.domain.material import Family
from nesting.domain.request import Request
from nesting.domain.runs import Run
from nesting.domain.stock import StockLine
from nesting.units import Length, mm
from tests.api.service import FAMILY, FINISH, SAW


def two_runs() -> Request:
    """Ask for two runs of 1240 from one bar of 2500: 8 + 1240 + 3 + 1240 + 8 leaves 1 mm."""
    return Request(
        runs=(Run(job="OY", id="OY-1", family=FAMILY, finish=FINISH, quantity=2, length=mm(1240)),),
        families=(Family(name=FAMILY),),
        stock=(StockLine(family=FAMILY, finish=FINISH, length=mm(2500)),),
        saw=SAW,
    )


def test_runs_may_grow_until_they_need_another_bar() -> None:
    """Half a millimetre each fits, one millimetre each does not: then it takes 2 bars."""
    plan = plan_request(two_runs(), Limits(seconds=10, processes=1))
    assert grown(plan, 0, time.monotonic() + 30) == (Growth(f"{FAMILY} {FINISH} channel", mm("0.5"), 2),)


def test_no_time_no_margin() -> None:
    """Nothing is guessed when time is up."""
    plan = plan_request(two_runs(), Limits(seconds=10, processes=1))
    assert grown(plan, 0, time.monotonic() - 1) == ()


def test_documents_give_back_what_was_written() -> None:
    """What is shown tomorrow is what was found today."""
    growth = (Growth("TOLV-17N natural channel", Length(40_500_000), None), Growth("x", mm(1), 7))
    assert read_growth(write_growth(growth)) == growth
    made = compare(two_runs(), seconds=20)
    assert made.mixes
    assert read_comparison(write_comparison(made)) == made
