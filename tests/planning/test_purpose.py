"""Which sizes reach an order, and which the saw."""

from __future__ import annotations

from dataclasses import replace

import pytest

from nesting.batch.run import plan_request
from nesting.domain.request import Request
from nesting.domain.rules import SawRules
from nesting.domain.runs import PieceLine
from nesting.domain.status import Purpose, Status
from nesting.domain.stock import StockLine
from nesting.planning.purpose import for_purpose
from nesting.units import mm

LINES = tuple(
    PieceLine(job="J", id=status.value, family="PLAIN", length=mm(600), status=status) for status in Status
)
REQUEST = Request(
    piece_lines=LINES, stock=(StockLine(family="PLAIN", length=mm(2000)),), saw=SawRules(kerf=mm(3))
)


@pytest.mark.parametrize(
    ("purpose", "taken", "codes"),
    [
        (Purpose.ORDER, {"measured", "drawing", "verify"}, {"on-hold"}),
        (Purpose.CUT, {"measured"}, {"on-hold", "not-measured"}),
    ],
)
def test_an_order_may_rest_on_drawings_a_cut_may_not(
    purpose: Purpose, taken: set[str], codes: set[str]
) -> None:
    """What is left out is listed with the reason, never dropped."""
    plan = plan_request(replace(REQUEST, purpose=purpose))
    assert {piece.run for piece in plan.pieces} == taken
    assert {left.code for left in plan.unplaced} == codes
    assert {left.run for left in plan.unplaced} == {line.id for line in LINES} - taken
    assert all(left.reason for left in plan.unplaced)


def test_a_request_that_is_all_measured_is_taken_as_it_is() -> None:
    """Nothing to leave out, nothing to say."""
    measured = replace(REQUEST, piece_lines=LINES[:1])
    assert for_purpose(measured) == (measured, ())
