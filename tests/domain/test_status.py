"""Which sizes a plan takes."""

from __future__ import annotations

from nesting.domain.status import Purpose, Status


def test_an_order_takes_drawings_a_cut_plan_does_not_and_none_takes_holds() -> None:
    """Bars may be ordered from drawings; only measured sizes are cut."""
    assert [status for status in Status if Purpose.ORDER.takes(status)] == [
        Status.MEASURED,
        Status.DRAWING,
        Status.VERIFY,
    ]
    assert [status for status in Status if Purpose.CUT.takes(status)] == [Status.MEASURED]
