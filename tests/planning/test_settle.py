"""A settled group's bound, as far as an audit can check it: bars on hand, in packs, limited."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.batch.split import split
from nesting.domain.buying import BuyingRules, Spares
from nesting.domain.progress import Progress
from nesting.domain.request import Request
from nesting.money import read_money
from nesting.planning.settle import settle
from nesting.takeoff.take_off import take_off
from nesting.verify.certificate import check_proofs
from tests.batch.shop import order, planned

ORDER = order({1460: 30, 659: 49, 600: 33, 400: 17}, bars={2000: "11.40", 2500: "14.00"})


def with_stock(request: Request, **terms: object) -> Request:
    """Give the request with other terms for its bars of 2000."""
    return replace(request, stock=(replace(request.stock[0], **terms), request.stock[1]))  # type: ignore[arg-type]


def test_free_bars_on_hand_leave_a_bound_that_can_be_checked() -> None:
    """If all bars counted as free, as the twelve on hand are, nothing at all would be proved."""
    plan = planned(with_stock(ORDER, on_hand=12))
    (group,) = plan.groups
    assert group.proved
    assert group.certificate is not None
    assert group.certificate.dual_bound == group.bound > 0
    assert check_proofs(plan).hold


@pytest.mark.parametrize("terms", [{"pack": 10}, {"on_hand": 5, "count": 40, "hand_value": read_money("3")}])
def test_what_the_duals_prove_is_close_to_the_bound(terms: dict[str, object]) -> None:
    """Packs, and bars on hand at a value: less than two per cent rest on the search."""
    plan = planned(with_stock(ORDER, **terms))
    (group,) = plan.groups
    assert group.certificate is not None
    assert group.certificate.dual_bound >= 0.98 * group.bound
    assert check_proofs(plan).hold


@settings(max_examples=12, deadline=None)
@given(st.integers(0, 9), st.sampled_from([None, 9, 12]), st.sampled_from([1, 3]), st.booleans())
def test_no_terms_break_a_certificate(hand: int, count: int | None, pack: int, priced: bool) -> None:
    """Whatever is on hand, limited or packed, the auditor's own problem bears the duals."""
    request = with_stock(
        order({900: 5, 659: 7, 400: 4}, bars={2000: "11.40", 2500: "14.00"}),
        on_hand=hand,
        count=count,
        pack=pack,
    )
    if not priced:
        request = replace(request, stock=tuple(replace(bar, price=None) for bar in request.stock))
    assert check_proofs(planned(request)).hold


def test_the_certificate_is_not_searched_for_beyond_its_duals() -> None:
    """Plans at prices nobody pays were rounded for half a minute, where only their duals were wanted."""
    request = with_stock(ORDER, pack=10)
    ((group,),) = split(request, take_off(request).pieces).chains
    seen: list[str] = []

    def noted(now: Progress) -> None:
        seen.append(now.phase)

    settled = settle(group, stop=noted)
    assert settled.result.certificate is not None
    assert {"buy", "columns"} <= set(seen)
    assert not {"round", "close", "scrap"} & set(seen)


@pytest.mark.parametrize(
    ("count", "ordered"),
    [
        (1, {2000: (1, 0), 2500: (6, 2)}),  # one bar of 2000 cannot be a reserve of two
        (3, {2000: (3, 2), 2500: (4, 0)}),  # two of the three are the reserve, one is left to cut
    ],
)
def test_a_reserve_comes_out_of_bars_that_are_there(count: int, ordered: dict[int, tuple[int, int]]) -> None:
    """Where bars are few, the reserve must neither be promised twice nor end the planning."""
    plain = order({900: 5, 659: 7, 400: 4}, bars={2000: "11.40", 2500: "14.00"})
    request = replace(with_stock(plain, count=count), buying=BuyingRules(spares=Spares(bars=2)))
    plan = planned(request)
    assert {line.length // 10**6: (line.bars, line.reserve) for line in plan.order} == ordered
    assert not plan.unplaced
