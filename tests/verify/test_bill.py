"""The order's terms derived once more: one figure changed, and the auditor has to name it."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from nesting.batch.run import plan_request
from nesting.domain.buying import BreakScope, BuyingRules, OffcutValue, PriceBreak, Spares
from nesting.domain.material import Family, LotRule
from nesting.domain.plan import Margins, Plan, SpareCut
from nesting.domain.request import Request
from nesting.domain.rules import SawRules
from nesting.domain.runs import PieceLine
from nesting.domain.status import Purpose, Status
from nesting.domain.stock import Offcut, StockLine
from nesting.money import Money, read_money
from nesting.units import mm
from nesting.verify import violations
from nesting.verify.bill import Bills, offcut_charge, unit_of
from nesting.verify.certificate import check_proofs
from tests.verify.change import change

LINE = PriceBreak(bars=6, off=1000)
TOTAL = PriceBreak(bars=8, price=read_money("9.00"), scope=BreakScope.TOTAL)
STOCK = StockLine(
    family="PLAIN",
    length=mm(2000),
    price=read_money("12.00"),
    pack=3,
    minimum=4,
    on_hand=1,
    hand_value=read_money("2.00"),
    breaks=(LINE,),
)
REQUEST = Request(
    piece_lines=(PieceLine(job="J", id="A", family="PLAIN", length=mm(900), quantity=11),),
    families=(Family(name="PLAIN"),),
    stock=(STOCK,),
    offcuts=(Offcut(tag="F-1", family="PLAIN", length=mm(1000)),),
    saw=SawRules(kerf=mm(3), head_trim=mm(8), tail_loss=mm(8), keep_length=mm(400)),
    buying=BuyingRules(fetch=read_money("0.50"), spares=Spares(bars=1)),
    currency="XTS",
)


@pytest.fixture(scope="module")
def plan() -> Plan:
    """
    Plan 11 pieces: one from the offcut, ten from five bars; one more bar in reserve.

    Six bars are two packs of three, more than the minimum of four, and reach the break: 64.80. With
    0.50 to fetch the offcut that is 65.30. The bar on hand would save nothing, since packs hold three.
    """
    return plan_request(REQUEST)


def test_the_plan_is_as_the_fixture_says(plan: Plan) -> None:
    """6 x 10.80 + 0.50 = 65.30, and the audit agrees."""
    (order,) = plan.order
    assert (order.bars, order.needed, order.reserve, order.spare, order.on_hand) == (6, 5, 1, 0, 0)
    assert plan.groups[0].cost == read_money("65.30")
    assert violations(plan) == ()
    assert Bills(plan).paid(plan.groups[0]) == read_money("65.30")


MUTATIONS: list[tuple[str, dict[str, Any], str]] = [
    ("order.0", {"bars": 5, "reserve": 0, "sum": Money(540_000)}, "order-terms"),  # no whole packs
    ("order.0", {"bars": 3, "on_hand": 3}, "order-terms"),  # fewer than the minimum, more than on hand
    ("order.0", {"bars": 9, "spare": 3}, "cost"),  # more is ordered than the cost says
    ("order.0", {"price": Money(120_000)}, "order-price"),  # the break is reached
    ("order.0", {"sum": Money(1)}, "order-sum"),
    ("order.0", {"reserve": 0, "spare": 1}, "reserve"),
    ("order.0", {"listed": Money(1)}, "order-terms"),
    ("order.0", {"stock": 7}, "order-count"),
    ("request.buying", {"fetch": Money(1)}, "cost"),
    ("request.buying", {"spares": Spares(bars=2)}, "reserve"),
    ("request.stock.0", {"pack": 4}, "order-terms"),
    ("request.stock.0", {"minimum": 7}, "order-terms"),
    ("request.stock.0", {"breaks": ()}, "order-price"),
    ("request.stock.0", {"count": 5}, "stock-count"),
    ("groups.0", {"cost": 652_999}, "cost"),
    ("groups.0", {"margins": Margins(kerf=mm(1), bar=mm(181))}, "kerf-margin"),
    ("groups.0", {"margins": Margins(kerf=mm(184), bar=mm(180))}, "bar-margin"),
    ("groups.0", {"spares": (SpareCut(1, mm(900)),)}, "spare"),
]


@pytest.mark.parametrize(("path", "changes", "code"), MUTATIONS)
def test_one_change_is_named(plan: Plan, path: str, changes: dict[str, Any], code: str) -> None:
    """An order that cannot be placed, or that comes dearer than it says, must not reach a supplier."""
    assert code in {violation.code for violation in violations(change(plan, path, **changes))}


def test_bars_on_hand_are_of_no_known_lot(plan: Plan) -> None:
    """Where a room must be of one lot, nothing may come from the shelf."""
    shelf = change(plan, "order.0", bars=6, on_hand=1, reserve=1, spare=1)
    by_room = replace(shelf.request, families=(Family(name="PLAIN", lot_rule=LotRule.ROOM),))
    assert "order-terms" in {v.code for v in violations(replace(shelf, request=by_room))}
    assert "order-terms" not in {v.code for v in violations(shelf)}


def test_the_lowest_price_reached_is_due() -> None:
    """12.00, from six bars 10.80, from eight in all 9.00."""
    line = replace(STOCK, breaks=(LINE, TOTAL))
    assert [unit_of(line, bars, total) for bars, total in ((5, 5), (6, 6), (1, 8))] == [
        read_money("12.00"),
        read_money("10.80"),
        read_money("9.00"),
    ]


def test_an_offcut_is_charged_by_value_rule_and_fetching() -> None:
    """1000 mm at 6.00 a metre: (1000 - 400) / (2000 - 400) of the way from 50 to 90 % is 65 %: 3.90."""
    ruled = replace(REQUEST, buying=BuyingRules(fetch=read_money("0.50"), offcut_value=OffcutValue()))
    material = plan_request(REQUEST).groups[0].material
    (offcut,) = REQUEST.offcuts
    assert offcut_charge(ruled, material, offcut) == read_money("4.40")
    assert offcut_charge(ruled, material, replace(offcut, value=Money(0))) == read_money("0.50")
    assert offcut_charge(ruled, material, replace(offcut, length=mm(399))) == read_money("0.50")


@pytest.mark.parametrize(
    ("status", "purpose", "code"),
    [
        (Status.HOLD, Purpose.ORDER, "not-released"),
        (Status.DRAWING, Purpose.CUT, "not-released"),
        (Status.DRAWING, Purpose.ORDER, None),
    ],
)
def test_what_must_not_be_cut_is_named(
    plan: Plan, status: Status, purpose: Purpose, code: str | None
) -> None:
    """A plan edited by hand must not smuggle an unmeasured size to the saw."""
    changed = change(plan, "request.piece_lines.0", status=status)
    changed = replace(changed, request=replace(changed.request, purpose=purpose))
    found = {violation.code for violation in violations(changed)}
    assert (code in found) if code else ("not-released" not in found)


def test_the_lowest_prices_prove_part_of_the_bound(plan: Plan) -> None:
    """At 2.00 a bar, the least on any terms, the duals prove something; a boast of more is found out."""
    proofs = check_proofs(plan)
    assert proofs.hold
    assert "branch and bound over" in proofs.lines[0]
    certificate = plan.groups[0].certificate
    assert certificate is not None
    assert 0 < certificate.dual_bound <= plan.groups[0].cost
    boast = replace(certificate, dual_bound=plan.groups[0].bound)
    assert not check_proofs(change(plan, "groups.0", certificate=boast)).hold
