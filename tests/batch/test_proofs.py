"""Bounds of plans that follow another one, checked without the solver."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.batch.pool import Limits
from nesting.batch.proofs import WHAT_IS_OPEN, with_certificates
from nesting.domain.plan import Plan
from nesting.domain.runs import PieceLine
from nesting.domain.stock import StockLine
from nesting.exchange import read_plan, write_plan
from nesting.units import mm
from nesting.verify.certificate import check_proofs
from tests.batch.shop import again, bars_of, done, order, planned

PRICES = {2000: "11.40", 2500: "14.00"}
PLAN = planned(order({1460: 3, 659: 9, 600: 3, 400: 7}, bars=PRICES, offcuts={"A": 1300}))


def spoiled(plan: Plan, number: int, length: int) -> Plan:
    """Report a bar done, its first piece cut too short, and plan again."""
    first = bars_of(plan)[number].cuts[0].piece
    return again(plan, done(number, **{first.replace(".", "_"): mm(length)})).plan


def test_a_spoiled_piece_leaves_a_bound_that_can_be_checked() -> None:
    """What the duals prove is checked again; what cannot be undone at the saw is said to be trusted."""
    made = spoiled(PLAN, 3, 500)
    (group,) = made.groups
    assert group.certificate is not None
    assert group.certificate.dual_bound <= group.bound == group.certificate.bound <= group.cost
    proofs = check_proofs(made)
    assert proofs.hold
    assert WHAT_IS_OPEN in proofs.lines[0]
    assert check_proofs(read_plan(write_plan(made))) == proofs


def test_a_material_nobody_touched_keeps_its_certificate() -> None:
    """Its problem is the same, so nothing has to be proved twice."""
    request = order({1460: 3, 659: 9}, bars=PRICES)
    other = PieceLine(job="yard", id="G1", family="G", quantity=5, length=mm(900))
    both = replace(
        request,
        piece_lines=(*request.piece_lines, other),
        stock=(*request.stock, StockLine(family="G", length=mm(2000), price=request.stock[0].price)),
    )
    plan = planned(both)
    made = spoiled(plan, 1, 500)
    assert made.groups[1].certificate == plan.groups[1].certificate
    assert made.groups[1].bound == plan.groups[1].bound
    assert check_proofs(made).hold


def test_pieces_left_out_have_no_certificate() -> None:
    """What is proved for all pieces says nothing about a plan without some of them."""
    plan = planned(order({1460: 3}, bars={2000: "11.40"}, count=3))
    made = spoiled(plan, 1, 1400)
    assert made.unplaced
    assert made.groups[0].certificate is None
    assert with_certificates(made, plan, Limits()).groups[0].certificate is None


@settings(max_examples=12, deadline=None)
@given(st.integers(1, 4), st.integers(150, 1200))
def test_no_replan_claims_more_than_its_certificate(number: int, length: int) -> None:
    """Whatever is spoiled, the auditor finds nothing wrong with the new bound."""
    plan = planned(order({1460: 2, 659: 5, 400: 3}, bars=PRICES))
    if number not in bars_of(plan) or bars_of(plan)[number].cuts[0].length <= mm(length):
        return
    made = spoiled(plan, number, length)
    assert check_proofs(made).hold
    assert all(group.bound <= group.cost for group in made.groups)
