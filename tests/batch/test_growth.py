"""How far an order from drawings can be trusted."""

from __future__ import annotations

import threading
from dataclasses import replace

import pytest

from nesting.batch import growth
from nesting.batch.growth import with_growth
from nesting.batch.pool import Limits
from nesting.batch.run import plan_request
from nesting.demo import tables
from nesting.domain.group_plan import GrowthOpen
from nesting.domain.material import Family
from nesting.domain.request import Request
from nesting.domain.rules import SawRules
from nesting.domain.runs import LengthKind, Run
from nesting.domain.stock import StockLine
from nesting.money import money_text
from nesting.sheets.read_request import read_request
from nesting.sheets.template import write_template
from nesting.units import Length, mm
from tests.batch.shop import order


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


@pytest.mark.parametrize(("grown", "cost"), [("40.5", "1025.40"), ("42", "1061.60")])
def test_the_grown_building_costs_what_the_margin_says(tolv: Request, grown: str, cost: str) -> None:
    """The margin is a claim about real plans: they are made here."""
    runs = tuple(replace(run, length=Length(run.length + mm(grown))) for run in tolv.runs)
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


def test_a_cancelled_search_claims_no_end() -> None:
    """A margin that was not found must not be taken for one, nor for one that was not looked for."""
    request = small("980")
    (group,) = plan_request(request).groups
    flag = threading.Event()
    flag.set()
    margins = with_growth(request, group, seed=0, seconds=None, cancel=flag)
    assert group.margins is not None
    assert margins is not None
    assert (margins.growth_cost, margins.growth_open) == (None, GrowthOpen.TIME)
    # First plans of the trials may hold; more than the 10 mm there are cannot.
    assert (margins.growth or 0) <= mm(10)


def test_what_holds_is_told_when_time_is_up(monkeypatch: pytest.MonkeyPatch) -> None:
    """980 may grow by 10; stopped after 1, 2, 4 and 8 were tried, eight are known to hold."""
    request = small("980")
    (group,) = plan_request(request).groups
    flag = threading.Event()
    holds = growth._Growing.holds  # noqa: SLF001 - the clock cannot be stopped in between

    def slow(self: growth._Growing, grown: int) -> bool:
        if grown > mm(8):
            flag.set()
        return holds(self, grown)

    monkeypatch.setattr(growth._Growing, "holds", slow)  # noqa: SLF001
    margins = with_growth(request, group, seed=0, seconds=None, cancel=flag)
    assert margins is not None
    assert (margins.growth, margins.growth_cost, margins.growth_open) == (mm(8), None, GrowthOpen.TIME)


def test_piece_lines_do_not_grow_and_it_is_said() -> None:
    """Who asked for the margin must not look for it in vain."""
    (group,) = plan_request(order({900: 2}, bars={2000: "11.40"}), Limits(growth=True)).groups
    assert group.margins is not None
    assert (group.margins.growth, group.margins.growth_open) == (None, GrowthOpen.NO_RUNS)


def test_pieces_left_out_leave_no_margin() -> None:
    """One bar holds one of two runs of 1900: what all of them would cost is not known."""
    request = small("1900")
    few = replace(request, stock=(replace(request.stock[0], count=1),))
    (group,) = plan_request(few, Limits(growth=True)).groups
    assert group.margins is not None
    assert (group.margins.growth, group.margins.growth_open) == (None, GrowthOpen.LEFT_OUT)
