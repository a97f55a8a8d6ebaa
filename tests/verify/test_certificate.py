"""Tests of nesting.verify.certificate."""

from __future__ import annotations

from dataclasses import replace

import pytest

from nesting.domain.problem import BarKind, Problem
from nesting.domain.progress import Certificate
from nesting.units import mm
from nesting.verify.certificate import MOST_WORK, NOT_RECHECKED, check_certificate, check_proofs
from tests.verify.change import change
from tests.verify.small_plan import plan

# 30 x 659 from 2000, trims 8: with kerf 3.5 three to a bar (3 x 659 + 2 x 3.5 = 1984), with 4 two.
THREE = Problem(
    lengths=(mm(659),),
    counts=(30,),
    bars=(BarKind(key="stock:0", length=mm(2000), head=mm(8), tail=mm(8)),),
    kerf=mm("3.5"),
)
TEN = Certificate(bound=10, duals=(1,), scale=3, dual_bound=10)


def codes(problem: Problem, certificate: Certificate, short: int = 0) -> set[str]:
    """Give the codes of what is wrong with a certificate."""
    return {v.code for v in check_certificate(problem, certificate, short=short)}


def test_three_to_a_bar_proves_ten() -> None:
    """A third of a bar for each of thirty pieces: ten bars, and no pattern is worth more than one."""
    assert check_certificate(THREE, TEN) == ()


def test_the_kerf_cliff_proves_fifteen() -> None:
    """At kerf 4 only two fit, so each piece may claim half a bar; at 3.5 that claim is false."""
    fifteen = Certificate(bound=15, duals=(1,), scale=2, dual_bound=15)
    assert codes(replace(THREE, kerf=mm(4)), fifteen) == set()
    assert codes(THREE, fifteen) == {"certificate-pattern"}


@pytest.mark.parametrize(
    ("wrong", "code"),
    [
        (replace(TEN, duals=(2,)), "certificate-pattern"),
        (replace(TEN, bound=11, dual_bound=11), "certificate-bound"),
        (replace(TEN, bound=11), "certificate-bound"),
        (replace(TEN, duals=(1, 1)), "certificate-shape"),
        (replace(TEN, duals=(-1,)), "certificate-shape"),
        (replace(TEN, scale=0), "certificate-shape"),
        (replace(TEN, supply_duals=(1,)), "certificate-shape"),
        (replace(TEN, supply_duals=(0, 0)), "certificate-shape"),
    ],
)
def test_wrong_certificates_are_refused(wrong: Certificate, code: str) -> None:
    """Anybody can write a bound down; only duals that hold prove it."""
    assert code in codes(THREE, wrong)


def test_a_limited_kind_needs_its_supply_dual() -> None:
    """
    A free offcut that gives one piece saves a third of a bar, once.

    (30 - 1) / 3 = 9.67, so 10 bars still; without the supply dual the free bar breaks the proof.
    """
    offcut = BarKind(key="R-1", length=mm(700), tail=mm(8), cost=0, count=1, offcut=True)
    problem = replace(THREE, bars=(*THREE.bars, offcut))
    assert codes(problem, replace(TEN, supply_duals=(0, 1))) == set()
    assert codes(problem, TEN) == {"certificate-pattern"}


def test_used_up_kinds_prove_nothing_wrong() -> None:
    """A bar that is not there cannot be cut cheaper."""
    gone = BarKind(key="R-1", length=mm(700), cost=0, count=0, offcut=True)
    assert codes(replace(THREE, bars=(*THREE.bars, gone)), TEN) == set()


def test_costs_in_steps_round_the_bound_up() -> None:
    """Bars at 114000: 29 pieces of a third are 9.67 bars, and money comes in whole bars here."""
    bar = replace(THREE.bars[0], cost=114_000)
    problem = replace(THREE, counts=(29,), bars=(bar,))
    claimed = Certificate(bound=1_140_000, duals=(38_000,), scale=1, dual_bound=1_140_000)
    assert codes(problem, claimed) == set()


def test_what_is_left_out_is_charged() -> None:
    """
    Two bars for thirty pieces: 24 are left out, 15816 mm, and the plan of two bars is the least.

    With short_dual 1 a nanometre, 659e6 a piece and 3 x 659e6 a bar: 30 x 659e6 - 24 x 659e6 over
    3 x 659e6 is 2.
    """
    worth = mm(659)
    problem = replace(THREE, bars=(replace(THREE.bars[0], count=2),))
    claimed = Certificate(bound=2, duals=(worth,), scale=3 * worth, short_dual=1, dual_bound=2)
    assert codes(problem, claimed, short=24 * worth) == set()
    assert codes(problem, claimed, short=23 * worth) == set()
    assert "certificate-short" in codes(problem, replace(claimed, short_dual=0), short=24 * worth)
    more = replace(claimed, bound=3, dual_bound=3)
    assert "certificate-bound" in codes(problem, more, short=24 * worth)


def test_only_a_search_that_is_named_may_close_what_the_duals_leave() -> None:
    """The duals prove ten; eleven needs somebody to answer for the last one."""
    closed = replace(TEN, bound=11, closed_by="an exhaustive search")
    assert codes(THREE, closed) == set()
    assert codes(THREE, replace(closed, closed_by="")) == {"certificate-bound"}


# Two of 60 at 7 or one of 120 at 13; seven pieces of 40 take 280.
SHELF = Problem(
    lengths=(mm(40),),
    counts=(7,),
    bars=(
        BarKind(key="long", length=mm(120), cost=13),
        BarKind(key="short", length=mm(60), cost=7),
    ),
)
# 280 of room: 2 x 120 + 60 cost 33, while by the metre 280 come to 30.33, so 31
ROOM = Certificate(bound=33, duals=(13,), scale=3, dual_bound=31, room_bound=33)


def test_room_for_all_pieces_proves_what_duals_do_not() -> None:
    """Bars are bought whole, so anybody can see that two long ones and a short one are the least."""
    assert codes(SHELF, ROOM) == set()


def test_more_than_the_room_asks_for_is_refused() -> None:
    """A room bound of 34 is false: bars for 33 hold everything."""
    assert codes(SHELF, replace(ROOM, bound=34, room_bound=34)) == {"certificate-room"}


def test_room_for_all_pieces_bounds_no_plan_that_leaves_some_out() -> None:
    """Without a piece of 40 two long bars do, for 26."""
    assert "certificate-room" in codes(SHELF, ROOM, short=mm(40))


def test_too_large_is_said() -> None:
    """No answer is an answer, as long as it is given."""
    # One millimetre is free beside three 659s; fractions would fill it, so patterns must be looked at.
    two = replace(THREE, lengths=(mm(659), mm(500)), counts=(30, 1), kerf=mm(3))
    fine = replace(TEN, duals=(1000, 700), scale=3000)
    assert check_certificate(two, fine) == ()
    (only,) = check_certificate(two, fine, most_work=0)
    assert only.code == NOT_RECHECKED
    assert "not re-checked, too large" in only.message


def test_proofs_of_a_plan() -> None:
    """One line for each group: proved, closed by a search, or without a certificate."""
    proofs = check_proofs(plan())
    assert proofs.hold
    assert proofs.lines[0] == (
        "BRASK-20F channel: checked again, nothing below 12.80 is possible, so the plan is the least."
    )
    assert "without a certificate" in proofs.lines[2]


def test_a_wrong_proof_fails_the_plan() -> None:
    """Two pieces of 670 fit a 2000: each can claim half a bar, 48000, not more."""
    proofs = check_proofs(change(plan(), "groups.1.certificate", duals=(48_001,)))
    assert not proofs.hold
    assert {v.code for v in proofs.violations} == {"certificate-pattern"}
    assert "not proved" in proofs.lines[1]


def test_a_proof_closed_by_a_search_says_which_part_holds() -> None:
    """Here the duals prove nothing, the search all of it."""
    trusted = Certificate(bound=96_000, duals=(0,), scale=1, closed_by="an exhaustive search")
    proofs = check_proofs(change(plan(), "groups.1", certificate=trusted))
    assert proofs.hold
    assert "nothing below 0.00 is possible" in proofs.lines[1]
    assert "an exhaustive search, which is trusted, not checked" in proofs.lines[1]


def test_a_plan_refutes_a_bound_above_its_own_cost() -> None:
    """A search is trusted only as far as the plan itself allows: 540.00 for a plan of less is impossible."""
    (channel, *_) = plan().groups
    assert channel.certificate is not None
    at_cost = replace(channel.certificate, bound=channel.cost, closed_by="an exhaustive search")
    assert check_proofs(change(plan(), "groups.0", certificate=at_cost)).hold
    raised = replace(at_cost, bound=channel.cost + 1)
    for most_work in (MOST_WORK, 0):  # also where the pricing is too large to be done again
        proofs = check_proofs(change(plan(), "groups.0", certificate=raised), most_work=most_work)
        assert {v.code for v in proofs.violations} == {"certificate-above-cost"}
        assert "the plan comes to 12.80" in proofs.lines[0]
    by_room = replace(at_cost, room_bound=channel.cost + 1)
    unchecked = check_proofs(change(plan(), "groups.0", certificate=by_room), most_work=0)
    assert {v.code for v in unchecked.violations} == {"certificate-above-cost"}


def test_a_price_that_is_missing_stops_the_proof() -> None:
    """A bar of unknown price could be the cheaper one."""
    proofs = check_proofs(change(plan(), "request.stock.4", price=None))
    assert not proofs.hold
    assert "cannot be checked" in proofs.lines[1]
