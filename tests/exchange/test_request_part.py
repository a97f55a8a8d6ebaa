"""A length may be given in words or in nanometres, one of them and never both."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from pydantic import ValidationError

from nesting.domain.material import Family
from nesting.exchange.request_families import FamilyPart
from nesting.exchange.request_lines import RunPart
from nesting.units import Unit, mm

RUN = {"job": "OY", "id": "A", "family": "TOLV-17N"}


def run(**length: Any) -> RunPart:
    """Read a run in millimetres."""
    return RunPart.model_validate({**RUN, **length}, context={"unit": Unit.MM})


def test_a_length_may_stand_in_words_or_in_nanometres() -> None:
    """People write the one, programs the other; both come to the same field."""
    assert (
        run(length="900 mm").length == run(length=900).length == run(length_nm=900_000_000).length == mm(900)
    )


def test_one_of_the_two_is_needed_and_not_both() -> None:
    """Of two lengths that differ nobody would know which one was cut."""
    with pytest.raises(ValidationError, match="give one of them"):
        run(length="900 mm", length_nm=900_000_000)
    with pytest.raises(ValidationError, match="Field required"):
        run()
    assert run(length=900, length_nm=None).length == mm(900)


def test_lengths_are_written_in_nanometres() -> None:
    """Nothing is rounded on the way out, a third of a nanometre included."""
    family = Family(name="F", clearance=mm("1.5"), strip_pitch=Fraction(50_000_000, 3))
    tree = FamilyPart.tree(family)
    assert (tree["clearance_nm"], tree["strip_pitch_nm"]) == (1_500_000, "50000000/3")
    assert not {"clearance", "strip_pitch"} & tree.keys()


def test_the_schema_shows_both_ways() -> None:
    """A program that is written from the schema alone has to find the second key."""
    shown = RunPart.model_json_schema()
    assert "length" not in shown["required"]
    assert {"oneOf": [{"required": ["length"]}, {"required": ["length_nm"]}]} in shown["allOf"]
    assert shown["properties"]["length_nm"]["type"] == ["integer", "null"]
    pitch = FamilyPart.model_json_schema()["properties"]["strip_pitch_nm"]
    assert pitch["type"] == ["string", "integer", "null"]
