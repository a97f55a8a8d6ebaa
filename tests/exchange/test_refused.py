"""Whoever sends a faulty document learns every fault at its pointer, with what would be accepted."""

from __future__ import annotations

from pydantic import ValidationError

from nesting.errors import Finding, Severity
from nesting.exchange.refused import findings_of
from nesting.exchange.request_lines import RunPart
from nesting.units import Unit

RUN = {"job": "OY", "id": "A", "family": "TOLV-17N", "length": 900}


def found(**changes: object) -> list[Finding]:
    """Read a run with some keys changed, in millimetres, and give its findings."""
    try:
        RunPart.model_validate({**RUN, **changes}, context={"unit": Unit.MM})
    except ValidationError as error:
        return list(findings_of(error, RunPart, "order.json"))
    return []


def test_a_run_as_it_should_be_has_no_findings() -> None:
    """What follows is then the change's fault."""
    assert found() == []


def test_each_fault_stands_at_its_own_pointer() -> None:
    """The place is that of the value, or of the key it was really given under."""
    faults = found(quantity=0, place={"flor": "3"}, clearance_left_nm=-1)
    assert [(f.code, str(f.where)) for f in faults] == [
        ("out-of-range", "order.json!/quantity"),
        ("out-of-range", "order.json!/clearance_left_nm"),
        ("unknown-key", "order.json!/place/flor"),
    ]


def test_a_misspelt_key_is_answered_with_what_is_known_there() -> None:
    """The nearest key when there is one, else all of this object's keys, not of another's."""
    (near,) = found(place={"flor": "3"})
    assert near.message == "This key is not known here. Perhaps 'floor' is meant."
    (far,) = found(place={"xyz": "3"})
    assert far.message == "This key is not known here. Known are building, floor, unit, room, spot."


def test_what_was_found_is_shown_short() -> None:
    """A finding is a line on a screen, whatever was sent."""
    assert [f.found for f in found(note=["a"])] == ["a list"]
    assert [f.found for f in found(note={"a": 1})] == ["an object"]
    assert [f.found for f in found(note=None)] == ["null"]
    assert [f.found for f in found(note=True)] == ["true"]
    (long,) = found(kind="x" * 500)
    assert len(long.found) == 60
    (nanometres,) = found(clearance_left_nm=-7)
    assert nanometres.found == "-7"


def test_a_choice_between_readings_is_asked() -> None:
    """Only a person knows whether 1,250 is a thousand or one and a quarter."""
    (finding,) = found(length="1,250 mm")
    assert finding.severity is Severity.ASK
