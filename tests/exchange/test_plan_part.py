"""Millimetres beside nanometres are for people: always written, never read."""

from __future__ import annotations

from nesting.domain.made import Zone
from nesting.exchange.plan_bars import ZonePart
from nesting.units import mm

ZONE = Zone(mm("1100.5"), mm(900), "R-3")


def test_every_length_is_told_in_millimetres_too() -> None:
    """Nine digits of nanometres are nothing to check a bar by."""
    assert ZonePart.twins() == {"start_mm": "start_nm", "length_mm": "length_nm"}
    assert ZonePart.tree(ZONE) == {
        "start_nm": 1_100_500_000,
        "start_mm": "1100.5",
        "length_nm": 900_000_000,
        "length_mm": "900",
        "tag": "R-3",
    }


def test_what_is_told_is_not_read() -> None:
    """The nanometres decide; a millimetre text that was edited alone changes nothing."""
    edited = {**ZonePart.tree(ZONE), "length_mm": "950"}
    assert ZonePart.model_validate(edited).to_domain() == ZONE


def test_the_schema_shows_the_twins_as_not_read() -> None:
    """Who edits a plan has to know which of the two counts."""
    shown = ZonePart.model_json_schema()["properties"]["length_mm"]
    assert shown["type"] == "string"
    assert shown["description"].endswith("not read.")
