"""Every number of a certificate that the solver gave, falsified: none may pass unseen."""

from __future__ import annotations

from dataclasses import replace

import pytest

from nesting.domain.problem import BarKind, Problem
from nesting.domain.progress import Certificate, Result
from nesting.solver.solve import solve
from nesting.units import Length
from nesting.verify.certificate import check_certificate


def _problem(pieces: dict[int, int], *bars: tuple[int, int, int | None]) -> Problem:
    lengths = sorted(pieces, reverse=True)
    return Problem(
        lengths=tuple(Length(length) for length in lengths),
        counts=tuple(pieces[length] for length in lengths),
        bars=tuple(
            BarKind(key=f"bar {length}", length=Length(length), cost=cost, count=count)
            for length, cost, count in bars
        ),
    )


PIECES = {45: 97, 36: 610, 31: 395, 14: 211}
"""Chvatal (1983), Linear Programming, ch. 13: 453 bars of 100."""
NO_ROUND_UP = {65: 2, 63: 1, 54: 1, 47: 1, 46: 1, 34: 3, 12: 1, 10: 1, 8: 1, 6: 1}
"""Thirteen pieces whose linear programme says 3 bars of 160, while 4 are needed."""
KINDS = {
    "one length": _problem(PIECES, (100, 1, None)),
    "several lengths with costs": _problem({35: 4, 37: 3, 43: 5, 30: 2}, (120, 11, None), (70, 7, None)),
    "limited bars": _problem({50: 6, 30: 5}, (110, 5, 2), (80, 9, None)),
    "too few bars": _problem({60: 3, 40: 3}, (100, 7, 2)),
    "closed by a search": _problem(NO_ROUND_UP, (160, 1, None)),
}


def _solved(name: str) -> tuple[Problem, Result, Certificate]:
    problem = KINDS[name]
    result = solve(problem)
    assert result.certificate is not None
    return problem, result, result.certificate


@pytest.mark.parametrize("name", KINDS)
def test_what_the_solver_gives_holds(name: str) -> None:
    """A checker that refuses true proofs would be of no use."""
    problem, result, certificate = _solved(name)
    assert check_certificate(problem, certificate, short=result.short) == ()


@pytest.mark.parametrize("name", KINDS)
def test_a_raised_bound_is_caught(name: str) -> None:
    """Neither the bound by duals nor the whole bound may be written up without duals or a search for it."""
    problem, result, certificate = _solved(name)
    up = certificate.bound + max(bar.cost for bar in problem.bars)
    for wrong in (
        replace(certificate, dual_bound=up, bound=up),
        replace(certificate, bound=up, closed_by=""),
    ):
        assert {v.code for v in check_certificate(problem, wrong, short=result.short)} == {
            "certificate-bound"
        }


@pytest.mark.parametrize("name", KINDS)
def test_raised_duals_are_caught(name: str) -> None:
    """Dearer pieces prove too much: some pattern is then worth more than its bar, or leaving out pays."""
    problem, result, certificate = _solved(name)
    if not any(certificate.duals):
        pytest.skip("these duals prove nothing, so there is nothing to raise")
    wrong = replace(certificate, duals=tuple(2 * dual for dual in certificate.duals))
    found = {v.code for v in check_certificate(problem, wrong, short=result.short)}
    assert found & {"certificate-pattern", "certificate-short"}


@pytest.mark.parametrize("name", KINDS)
def test_a_finer_scale_is_caught(name: str) -> None:
    """Calling the same duals fractions of a coarser unit would double what they prove."""
    problem, result, certificate = _solved(name)
    if not certificate.dual_bound:
        pytest.skip("these duals prove nothing")
    wrong = replace(certificate, scale=certificate.scale // 2)
    assert check_certificate(problem, wrong, short=result.short)


def test_a_search_that_is_claimed_is_no_longer_silent() -> None:
    """Without its search the last step of a bound is refused, so the certificate has to name it."""
    problem, result, certificate = _solved("closed by a search")
    assert certificate.closed_by
    assert certificate.bound > certificate.dual_bound
    wrong = replace(certificate, closed_by="")
    assert {v.code for v in check_certificate(problem, wrong, short=result.short)} == {"certificate-bound"}


def test_a_supply_dual_left_out_is_caught() -> None:
    """A limited bar's bargain must be paid for by its supply dual."""
    problem, _, certificate = _solved("limited bars")
    assert any(certificate.supply_duals)
    wrong = replace(certificate, supply_duals=(0,) * len(problem.bars))
    assert "certificate-pattern" in {v.code for v in check_certificate(problem, wrong)}
