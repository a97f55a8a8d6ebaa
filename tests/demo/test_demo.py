"""
The demo building as real input: read from its workbook, planned, and held to its known optima.

The expected sums were computed apart from this program by an exact model of the same numbers
(30 x 659 and the like by hand); no published source has this invented building.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from fractions import Fraction

import pytest

from nesting.batch.run import plan_request
from nesting.demo import rows, tables
from nesting.domain.plan import Plan
from nesting.domain.request import Request
from nesting.money import money_text
from nesting.reports.small_part_words import small_parts_line
from nesting.sheets.read_request import read_request
from nesting.sheets.template import write_template

BUILDING = "Orrelbeck Yard"


@pytest.fixture(scope="module")
def request_read(tmp_path_factory: pytest.TempPathFactory) -> Request:
    """Write the demo's workbook and read it back."""
    path = tmp_path_factory.mktemp("demo") / "runs.xlsx"
    write_template(path, tables())
    return read_request(path)


def building(request: Request) -> Request:
    """Keep the building's job alone."""
    return replace(request, runs=tuple(run for run in request.runs if run.job == BUILDING))


def costs(plan: Plan) -> dict[str, str]:
    return {group.material.family: money_text(group.cost) for group in plan.groups}


def test_the_list_is_whole() -> None:
    """48 flats of four types on six floors give 338 rows and 350 runs."""
    runs = rows("runs")
    assert (len(runs), sum(int(row["Quantity"]) for row in runs)) == (338, 350)
    assert len({row["Unit"] for row in runs}) == 48
    assert len(rows("rush")) == 9
    assert len(rows("offcuts")) == 10


def test_take_off_gives_the_known_lengths(request_read: Request) -> None:
    """TOLV-17N openings lose two clearances and two cap thicknesses; 3612 is two equal sections."""
    plan = plan_request(replace(building(request_read), offcuts=()))
    tolv = Counter(p.length / 10**6 for p in plan.pieces if p.material.family == "TOLV-17N")
    assert tolv == {2404: 12, 2200: 14, 1803: 24, 1800: 10, 1200: 24, 898: 14, 592: 10}
    imbo = Counter(p.length / 10**6 for p in plan.pieces if p.material.family == "IMBO-45A")
    assert imbo == {1507.6: 24, 1317.6: 14}


def test_the_sum_that_the_demo_prints(request_read: Request) -> None:
    """Protects the README's first figures: everything in the workbook, the rush job and the rack included."""
    plan = plan_request(request_read)
    printed = [money_text(group.cost) for group in plan.groups]
    assert printed == ["565.00", "42.40", "440.60", "528.00", "550.80", "1020.20"]
    assert money_text(sum(group.cost for group in plan.groups)) == "3147.00"
    assert all(group.proved for group in plan.groups)


def test_whole_building_is_proved_least(request_read: Request) -> None:
    """Unlimited stock, no offcuts: 1025.40 + 565.00 + 550.80 + 440.60 = 2581.80, and coves 528.00."""
    plan = plan_request(replace(building(request_read), offcuts=()))
    assert costs(plan) == {
        "TOLV-17N": "1025.40",
        "BRASK-20F": "565.00",
        "SARN-12R": "550.80",
        "IMBO-45A": "440.60",
        "QUEN-30M": "528.00",
    }
    assert all(group.proved for group in plan.groups)
    assert plan.unplaced == ()


def test_ten_offcuts_save_four_bars(request_read: Request) -> None:
    """With the rack's ten offcuts TOLV-17N needs 33 x 2000 and 42 x 2500: 964.20, proved."""
    plan = plan_request(building(request_read))
    tolv = next(group for group in plan.groups if group.material.family == "TOLV-17N")
    assert (money_text(tolv.cost), tolv.proved) == ("964.20", True)
    ordered = {line.length // 10**6: line.bars for line in plan.order if line.family == "TOLV-17N"}
    assert ordered == {2000: 33, 2500: 42}


def test_single_length_needs_79(request_read: Request) -> None:
    """TOLV-17N from 2500 bars alone: 79 of them, and 78 are impossible (by metal alone it is 68)."""
    request = replace(building(request_read), offcuts=())
    stock = tuple(s for s in request.stock if s.family != "TOLV-17N" or s.length == 2500 * 10**6)
    plan = plan_request(replace(request, stock=stock))
    tolv = next(group for group in plan.groups if group.material.family == "TOLV-17N")
    assert (tolv.totals.bars, money_text(tolv.bound)) == (79, "1106.00")


def test_per_floor_and_per_flat_cost_more(request_read: Request) -> None:
    """Four families planned whole 2581.80, floor by floor 2583.00, flat by flat 3177.60."""
    four = ("TOLV-17N", "BRASK-20F", "SARN-12R", "IMBO-45A")
    request = replace(
        building(request_read), offcuts=(), runs=tuple(r for r in request_read.runs if r.family in four)
    )

    def planned_by(level: str) -> str:
        parts = {getattr(run.place, level) for run in request.runs if run.job == BUILDING}
        total = 0
        for part in parts:
            runs = tuple(r for r in request.runs if r.job == BUILDING and getattr(r.place, level) == part)
            total += sum(group.cost for group in plan_request(replace(request, runs=runs)).groups)
        return money_text(total)

    assert [planned_by(level) for level in ("building", "floor", "unit")] == ["2581.80", "2583.00", "3177.60"]


def test_the_rush_job_shares_the_buildings_bars(request_read: Request) -> None:
    """Both jobs together cost no more than apart, and each pays its share."""
    jobs = {run.job for run in request_read.runs}
    request = replace(request_read, offcuts=())
    together = plan_request(request)
    apart = 0
    for job in jobs:
        runs = tuple(run for run in request.runs if run.job == job)
        apart += sum(group.cost for group in plan_request(replace(request, runs=runs)).groups)
    total = sum(group.cost for group in together.groups)
    assert total <= apart
    assert {share.job for share in together.jobs} == jobs
    assert sum(share.cost for share in together.jobs) == total


def test_small_parts_of_the_building(request_read: Request) -> None:
    """
    Every run is terminal, its feed left in units of hand L and right in hand R.

    Caps of 96 + 120 + 72 runs, 38 corner runs of handed caps, 12 coves of two legs; clips at d 100
    and s 400 on every piece; 8990 marks of 50 mm are 449.5 m, at 9.6 W/m 4315.2 W.
    """
    plan = plan_request(replace(building(request_read), offcuts=()))
    parts = plan.small_parts
    assert parts is not None
    caps = {(c.kind.family, c.kind.hand.value, c.kind.holed): c.count for c in parts.caps}
    none = {"TOLV-17N": 96, "BRASK-20F": 120, "SARN-12R": 72, "QUEN-30M": 12}
    assert caps == {
        **{(family, "none", holed): n for family, n in none.items() for holed in (True, False)},
        **{("IMBO-45A", hand, holed): 19 for hand in ("left", "right") for holed in (True, False)},
    }
    assert sum(part.count for part in parts.clips) == 1526
    (strip,) = parts.strips
    (reels,) = plan.reels
    # 8990 marks need 90 reels of 100 however they are split.
    assert (len(reels.reels), reels.proved) == (90, True)
    assert (strip.length, strip.watts) == (449_500 * 10**6, Fraction("4315.2"))
    assert small_parts_line(parts) == (
        "Small parts: 676 caps, 1526 clips, 12 joint sets, 350 connectors, "
        "449.5 m of strip (4315 W, planning aid)."
    )
