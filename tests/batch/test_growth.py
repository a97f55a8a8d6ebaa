"""How far an order from drawings can be trusted."""

from __future__ import annotations

import threading
from dataclasses import replace

import pytest

from nesting.batch.growth import with_growth
from nesting.batch.pool import Limits
from nesting.batch.run import plan_request
from nesting.demo import tables
from nesting.domain.material import Family
from nesting.domain.request import Request
from nesting.domain.rules import SawRules
from nesting.domain.runs import LengthKind, Run
from nesting.domain.stock import StockLine
from nesting.money import money_text
from nesting.sheets.read_request import read_request
from nesting.sheets.template import write_template
from nesting.units import Length, mm


@pytest.fixture(scope="module")
def tolv(tmp_path_factory: pytest.TempPathFactory) -> Request:
    """Give the demo building's TOLV-17N runs, without the rack."""
    path = tmp_path_factory.mktemp("demo") / "runs.xlsx"
    write_template(path, tables())
    request = read_request(path)
    runs = tuple(r for r in request.runs if r.job == "Orrelbeck Yard" and r.family == "TOLV-17N")
    return replace(request, runs=runs, offcuts=())


def test_the_demo_may_grow_by_40_5_but_not_by_42(tolv: Request) -> None:
    """Found apart from this program: 40.5 mm on every opening still cost 1025.40, 42 mm cost 1061.60."""
    (group,) = plan_request(tolv, Limits(growth=True)).groups
    assert group.margins is not None
    assert group.margins.growth is not None
    assert mm("40.5") <= group.margins.growth < mm(42)
    assert group.margins.growth_cost is not None
    assert group.margins.growth_cost > group.cost


@pytest.mark.parametrize(("growth", "cost"), [("40.5", "1025.40"), ("42", "1061.60")])
def test_the_grown_building_costs_what_the_margin_says(tolv: Request, growth: str, cost: str) -> None:
    """The margin is a claim about real plans: they are made here."""
    runs = tuple(replace(run, length=Length(run.length + mm(growth))) for run in tolv.runs)
    (group,) = plan_request(replace(tolv, runs=runs)).groups
    assert (money_text(group.cost), group.proved) == (cost, True)


def small(length: str, bar: int = 2000) -> Request:
    """Give two finished runs on bars of one length, no caps, saw steps of 1 mm."""
    return Request(
        runs=(Run(job="J", id="A", family="PLAIN", length=mm(length), quantity=2, kind=LengthKind.FINISHED),),
        families=(Family(name="PLAIN"),),
        stock=(StockLine(family="PLAIN", length=mm(bar)),),
        saw=SawRules(kerf=mm(3), head_trim=mm(8), tail_loss=mm(8), step=mm(1)),
    )


def test_the_margin_is_exact_to_the_saws_step() -> None:
    """8 + 2 a + 3 + 8 <= 2000 holds up to a = 990: 980 may grow by 10, then a second bar is opened."""
    (group,) = plan_request(small("980"), Limits(growth=True)).groups
    assert group.margins is not None
    assert (group.margins.growth, group.margins.growth_cost) == (mm(10), 2)


def test_growth_is_not_looked_for_without_end() -> None:
    """A run of 100 on a bar of 2000 may double: beyond a quarter of a metre nobody asks."""
    (group,) = plan_request(small("100"), Limits(growth=True)).groups
    assert group.margins is not None
    assert (group.margins.growth, group.margins.growth_cost) == (mm(256), None)


def test_growth_is_only_looked_for_when_asked() -> None:
    """It takes a dozen plans."""
    (group,) = plan_request(small("980")).groups
    assert group.margins is not None
    assert group.margins.growth is None


def test_a_cancelled_search_says_nothing_rather_than_half_an_answer() -> None:
    """A margin that was not found must not be taken for one."""
    request = small("980")
    (group,) = plan_request(request).groups
    flag = threading.Event()
    flag.set()
    assert with_growth(request, group, seed=0, seconds=None, cancel=flag) == group.margins
