"""Bounds of plans that follow another one, checked without the solver."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.batch.pool import Limits
from nesting.batch.proofs import WHAT_IS_OPEN, with_certificates
from nesting.batch.split import split
from nesting.domain.material import Family, LotRule
from nesting.domain.plan import Plan
from nesting.domain.request import Request
from nesting.domain.runs import PieceLine
from nesting.domain.stock import StockLine
from nesting.exchange import read_plan, write_plan
from nesting.planning.settle import settle
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


def sharing(count: int, *, offcut: bool = True) -> Request:
    """Ask for two jobs in a lot each, from one limited stock line and one offcut of no lot."""
    lines = tuple(
        PieceLine(job=job, id=f"{job}-{length}", family="F", quantity=n, length=mm(length))
        for job, length, n in (("J1", 1460, 2), ("J1", 659, 3), ("J2", 900, 3), ("J2", 480, 2))
    )
    asked = order({}, bars=PRICES, offcuts={"A": 1300} if offcut else {}, count=count)
    return replace(asked, piece_lines=lines, families=(Family(name="F", lot_rule=LotRule.JOB),))


def test_materials_that_share_bars_are_bounded_as_if_each_had_them_all() -> None:
    """
    Each bound is checked again, and it holds for the whole: no plan of both costs less than their sum.

    Solved with all bars for each, either costs no more than in any plan in which they share.
    """
    plan = planned(sharing(6))
    assert len(plan.groups) == 2
    made = spoiled(plan, 1, 500)
    assert all(group.certificate is not None and group.bound > 0 for group in made.groups)
    proofs = check_proofs(made)
    assert proofs.hold
    assert not any("without a certificate" in line for line in proofs.lines)
    parts = split(made.request, made.pieces).chains
    assert [len(chain) for chain in parts] == [2]
    for group, whole in zip(made.groups, parts[0], strict=True):
        assert group.certificate is not None
        assert group.certificate.dual_bound <= settle(whole).result.cost <= group.cost


def test_what_was_proved_for_left_over_bars_is_not_kept() -> None:
    """
    The first material takes the only 2000 bars; that the second needs longer ones is no proof for good.

    J1 takes both bars of 2000 and J2, planned behind it, one of 2500 for 14.00. Had J2 been first, a 2000
    for 11.40 would have done, so its bound after a report is 11.40.
    """
    lines = tuple(
        PieceLine(job=job, id=job, family="F", quantity=n, length=mm(1900))
        for job, n in (("J1", 2), ("J2", 1))
    )
    asked = order({}, bars=PRICES)
    stock = tuple(replace(line, count=2 if line.length == mm(2000) else None) for line in asked.stock)
    families = (Family(name="F", lot_rule=LotRule.JOB),)
    plan = planned(replace(asked, piece_lines=lines, stock=stock, families=families))
    assert [(group.bound, group.cost) for group in plan.groups] == [(228_000, 228_000), (140_000, 140_000)]
    for made in (again(plan).plan, again(again(plan).plan).plan):
        assert [(group.bound, group.cost) for group in made.groups] == [
            (228_000, 228_000),
            (114_000, 140_000),
        ]
        assert check_proofs(made).hold
        assert not made.groups[1].proved


@settings(max_examples=12, deadline=None)
@given(st.integers(1, 6), st.integers(150, 1200), st.integers(4, 8), st.booleans())
def test_no_replan_of_shared_bars_claims_more_than_its_certificate(
    number: int, length: int, count: int, offcut: bool
) -> None:
    """Scarce or plenty, with an offcut to share or none: nothing wrong is found with any bound."""
    plan = planned(sharing(count, offcut=offcut))
    if number not in bars_of(plan) or bars_of(plan)[number].cuts[0].length <= mm(length):
        return
    made = spoiled(plan, number, length)
    assert check_proofs(made).hold
    assert all(group.bound <= group.cost for group in made.groups)


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
