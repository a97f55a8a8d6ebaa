"""The proof in whole numbers, checked by code that shares nothing with the solver."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings

from nesting.domain.problem import BarKind, Problem
from nesting.solver.aim import Duals
from nesting.solver.certify import certify, mean
from nesting.solver.solve import solve
from nesting.units import Length, mm
from nesting.verify.certificate import check_certificate
from tests.solver.bench import bench
from tests.solver.replay import problem
from tests.solver.test_solve import tiny


@settings(max_examples=100, deadline=None)
@given(tiny())
def test_every_certificate_stands_up_to_the_auditor(asked: Problem) -> None:
    """Costs, supply, kerf, trims, pieces left out: the duals prove what they say."""
    result = solve(asked)
    if result.certificate is not None and result.short == result.short_bound:
        assert check_certificate(asked, result.certificate, short=result.short) == ()
        assert result.certificate.bound == result.bound
        assert result.certificate.checkable <= result.bound
        assert result.certificate.closed_by or result.certificate.checkable == result.bound


def test_exaggerated_duals_are_cut_back_to_the_truth() -> None:
    """Twice the right price of a half bar proves no more than the right price does."""
    parts = bench(problem({5: 7}, 10))
    aim, duals = parts.aim, Duals.of_pieces(parts.reduced, np.array([1.0]))
    proof = certify(parts.reduced, aim, duals, parts.pricer)
    assert proof.bound == 4
    assert proof.total <= 3.5 * proof.scale


def test_a_dual_too_high_for_limited_bars_is_paid_for_by_their_supply() -> None:
    """One bar of 10 at cost 1, then bars of 5 at cost 3: at 3 a piece the good bar is worth 6 - 1 more."""
    bars = [
        BarKind(key="good", length=Length(10), cost=1, count=1),
        BarKind(key="plain", length=Length(5), cost=3),
    ]
    parts = bench(problem({5: 4}, bars))
    duals = Duals.of_pieces(parts.reduced, np.array([3.0]))
    proof = certify(parts.reduced, parts.aim, duals, parts.pricer)
    assert proof.supplies == (5 * proof.scale, 0)
    assert proof.bound == 4 * 3 - 5


@pytest.mark.parametrize("bar", [6000, 5999])
def test_lengths_in_nanometres_lose_nothing(bar: int) -> None:
    """Three of 1998 mm and two kerfs of 3 mm are exactly 6000 mm; one nanometre less takes only two."""
    length = mm(bar) if bar == 6000 else Length(mm(6000) - 1)
    asked = problem({mm(1998): 30}, length, kerf=mm(3))
    assert solve(asked).bound == (10 if bar == 6000 else 15)


def test_the_mean_of_two_proofs_proves_no_more_than_the_better() -> None:
    """Prices of one half and of one third a piece, seven pieces, two to a bar: 3.5 and 7 / 3 bars."""
    parts = bench(problem({5: 7}, 10))
    proofs = [
        certify(parts.reduced, parts.aim, Duals.of_pieces(parts.reduced, np.array([price])), parts.pricer)
        for price in (1 / 2, 1 / 3)
    ]
    both = mean(proofs)
    assert both.total / both.scale == pytest.approx((3.5 + 7 / 3) / 2)
    assert 2 * both.pieces[0] <= both.scale


def test_most_examples_carry_a_certificate_to_check() -> None:
    """Protects the examples above from proving nothing: without a certificate nothing is asserted."""
    carried: list[bool] = []

    @settings(max_examples=100, deadline=None, database=None)
    @given(tiny())
    def count(asked: Problem) -> None:
        result = solve(asked)
        carried.append(result.certificate is not None and result.short == result.short_bound)

    count()
    assert 2 * sum(carried) > len(carried) >= 100
