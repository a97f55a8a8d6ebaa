"""
The demo's TOLV-17N bought on other terms: planned, ordered, audited and proved from end to end.

The sums were found apart from this program by enumerating purchases of the same 108 pieces.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from nesting.batch.run import plan_request
from nesting.demo import tables
from nesting.domain.buying import BreakScope, BuyingRules, OffcutValue, PriceBreak, Spares
from nesting.domain.plan import Plan
from nesting.domain.request import Request
from nesting.domain.stock import Offcut
from nesting.money import Money, money_text, read_money
from nesting.sheets.read_request import read_request
from nesting.sheets.template import write_template

LINE = PriceBreak(bars=60, off=1000)
TOTAL = PriceBreak(bars=60, off=1000, scope=BreakScope.TOTAL)


@pytest.fixture(scope="module")
def tolv(tmp_path_factory: pytest.TempPathFactory) -> Request:
    """Give the building's TOLV-17N runs, without the rack."""
    path = tmp_path_factory.mktemp("demo") / "runs.xlsx"
    write_template(path, tables())
    request = read_request(path)
    runs = tuple(r for r in request.runs if r.job == "Orrelbeck Yard" and r.family == "TOLV-17N")
    stock = tuple(line for line in request.stock if line.family == "TOLV-17N")
    return replace(request, runs=runs, stock=stock, offcuts=())


@pytest.fixture(scope="module")
def rack(tmp_path_factory: pytest.TempPathFactory) -> tuple[Offcut, ...]:
    """Give the demo's ten offcuts."""
    path = tmp_path_factory.mktemp("rack") / "runs.xlsx"
    write_template(path, tables())
    return read_request(path).offcuts


def on_terms(request: Request, **terms: Any) -> Plan:
    return plan_request(replace(request, stock=tuple(replace(line, **terms) for line in request.stock)))


def bars(plan: Plan) -> dict[int, int]:
    return {line.length // 10**6: line.bars for line in plan.order}


@pytest.mark.parametrize(
    ("terms", "cost", "ordered"),
    [
        ({}, "1025.40", {2000: 31, 2500: 48}),
        ({"breaks": (LINE,)}, "972.60", {2000: 19, 2500: 60}),
        ({"breaks": (TOTAL,)}, "922.86", {2000: 31, 2500: 48}),
        ({"pack": 10}, "1042.00", {2000: 30, 2500: 50}),
        ({"pack": 10, "breaks": (LINE,)}, "984.00", {2000: 20, 2500: 60}),
    ],
)
def test_the_order_is_the_least_on_its_terms(
    tolv: Request, terms: dict[str, Any], cost: str, ordered: dict[int, int]
) -> None:
    """What is paid is what was optimised: sums of the order, cost, shares of the jobs, proof."""
    plan = on_terms(tolv, **terms)
    (group,) = plan.groups
    assert (money_text(group.cost), group.proved) == (cost, True)
    assert bars(plan) == ordered
    assert sum(line.sum or 0 for line in plan.order) == group.cost
    assert sum(share.cost for share in plan.jobs) == group.cost
    assert plan.unplaced == ()


def test_spare_bars_are_named_apart(tolv: Request) -> None:
    """Six packs of 2500 hold 60 bars; what the plan does not cut goes to stock, whole."""
    plan = on_terms(tolv, pack=10, breaks=(LINE,))
    for line in plan.order:
        assert line.needed + line.spare == line.bars
    opened = plan.totals.bars
    assert sum(line.spare for line in plan.order) == 80 - opened


def test_the_price_paid_and_the_list_price_are_both_told(tolv: Request) -> None:
    """60 bars of 2500 at 12.60 instead of 14.00; the 19 of 2000 are at list price."""
    short, long = on_terms(tolv, breaks=(LINE,)).order
    assert (long.price, long.listed) == (read_money("12.60"), read_money("14.00"))
    assert (short.price, short.listed) == (read_money("11.40"), None)


def test_bars_on_hand_are_used_first(tolv: Request) -> None:
    """20 of each on hand leave 11 and 28 to order: 11 x 11.40 + 28 x 14.00 = 517.40."""
    plan = on_terms(tolv, on_hand=20)
    assert [(line.needed, line.on_hand, line.bars) for line in plan.order] == [(31, 20, 11), (48, 20, 28)]
    assert money_text(plan.groups[0].cost) == "517.40"


def test_a_reserve_is_ordered_with_the_lot(tolv: Request) -> None:
    """3 % of 79 bars is 2.37: three more of 2500, the cheapest length that can become any piece, 42.00."""
    plan = plan_request(replace(tolv, buying=BuyingRules(spares=Spares(share=300))))
    assert [(line.needed, line.reserve) for line in plan.order] == [(31, 0), (48, 3)]
    assert (money_text(plan.groups[0].cost), plan.groups[0].proved) == ("1067.40", True)


def test_a_pack_already_holds_the_reserve(tolv: Request) -> None:
    """Packs of ten bring spare bars anyway; a reserve of one 2500 bar costs 14 x 10 only if none is spare."""
    plan = plan_request(
        replace(
            tolv,
            stock=tuple(replace(line, pack=10) for line in tolv.stock),
            buying=BuyingRules(spares=Spares(bars=1)),
        )
    )
    (long,) = (line for line in plan.order if line.length == 2500 * 10**6)
    assert long.reserve == 1
    assert plan.groups[0].proved
    assert plan.groups[0].cost >= read_money("1042.00")


def test_fetching_nine_offcuts_to_save_one_bar_does_not_pay(tolv: Request, rack: tuple[Offcut, ...]) -> None:
    """Free offcuts save 61.20; at 20.00 to fetch each, none is worth the walk."""
    free = plan_request(replace(tolv, offcuts=rack))
    dear = plan_request(replace(tolv, offcuts=rack, buying=BuyingRules(fetch=read_money("20.00"))))
    assert money_text(free.groups[0].cost) == "964.20"
    assert (money_text(dear.groups[0].cost), dear.groups[0].proved) == ("1025.40", True)
    assert not any(bar.offcut for bar in dear.groups[0].bars)


def test_an_offcut_counts_for_its_value_by_the_rule_and_its_own_value_wins(
    tolv: Request, rack: tuple[Offcut, ...]
) -> None:
    """By the rule every offcut taken is charged; one named free is taken first."""
    rule = BuyingRules(offcut_value=OffcutValue())
    ruled = plan_request(replace(tolv, offcuts=rack, buying=rule))
    assert read_money("964.20") < ruled.groups[0].cost < read_money("1025.40")
    free = tuple(replace(offcut, value=Money(0)) for offcut in rack)
    assert plan_request(replace(tolv, offcuts=free, buying=rule)).groups[0].cost == read_money("964.20")
