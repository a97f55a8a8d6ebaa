"""The drawing: every bar to scale, every name harmless."""

from dataclasses import replace
from xml.etree import ElementTree

from api.plans.svg import draw_plan
from nesting.batch.pool import Limits
from nesting.batch.run import plan_request
from nesting.exchange import read_request
from nesting.units import Unit
from tests.api.service import pieces_request

SVG = "{http://www.w3.org/2000/svg}"


def test_bars_are_drawn_to_one_scale() -> None:
    """2500 is the longest bar and 1000 wide, so a piece of 610 is 244 wide."""
    plan = plan_request(read_request(pieces_request({610: 4})), Limits(processes=1))
    drawn = ElementTree.fromstring(draw_plan(plan))
    pieces = [one for one in drawn.iter(f"{SVG}rect") if one.get("class") == "piece"]
    assert [one.get("width") for one in pieces] == ["244.00"] * 4
    assert "24 1/64 in" in draw_plan(plan, Unit.INCH)  # 610 mm is 24.0157 in


def test_a_name_with_markup_stays_a_name() -> None:
    """What a customer calls a job is shown, not run."""
    plan = plan_request(read_request(pieces_request({610: 4})), Limits(processes=1))
    named = replace(plan, request=replace(plan.request, title="<script>alert(1)</script>"))
    text = draw_plan(named)
    assert "<script" not in text
    assert "&lt;script&gt;" in text
