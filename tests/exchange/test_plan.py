"""A plan written is the plan read again, by a published schema, also after an edit by hand."""

from __future__ import annotations

import json
from dataclasses import replace
from typing import Any

import jsonschema
import pytest
from hypothesis import given, settings

from nesting.domain.digest import plan_id
from nesting.domain.plan import Plan
from nesting.errors import Severity
from nesting.exchange import plan_schema, read_plan, write_plan
from nesting.exchange.plan_example import PLAN_EXAMPLE
from nesting.units import mm
from nesting.verify import violations
from nesting.verify.certificate import check_proofs
from tests.exchange.changed_plan import PLAN, TEXT, changed, faults, refused
from tests.exchange.strategies import plans


@settings(max_examples=60, deadline=None)
@given(plans())
def test_round_trip(some: Plan) -> None:
    """A plan kept as a file is the plan, to the last nanometre and the last digit of its proof."""
    text = write_plan(some)
    assert read_plan(text) == some
    assert write_plan(read_plan(text)) == text


@settings(max_examples=20, deadline=None)
@given(plans())
def test_what_we_write_obeys_our_schema(some: Plan) -> None:
    """Programs that generate their types from the schema must be able to read every plan."""
    jsonschema.Draft202012Validator(plan_schema()).validate(json.loads(write_plan(some)))


def test_real_plan_obeys_the_schema_and_passes_the_audit_again() -> None:
    """Audit, write, read, audit: the file is as good as the plan."""
    jsonschema.Draft202012Validator(plan_schema()).validate(json.loads(TEXT))
    assert read_plan(TEXT) == PLAN
    assert violations(read_plan(TEXT)) == ()


def test_schema_is_one_and_every_field_says_what_it_means() -> None:
    """Units stand in every description of a length."""
    schema = plan_schema()
    jsonschema.Draft202012Validator.check_schema(schema)
    jsonschema.Draft202012Validator(schema).validate(schema["examples"][0])
    for part in (schema, *(part for part in schema["$defs"].values() if "properties" in part)):
        for name, field in part["properties"].items():
            assert field.get("description"), name
            if name.endswith("_nm"):
                assert "nanometres" in field["description"]


def test_example_is_a_true_plan() -> None:
    """The example in the schema is taken as a pattern; it has to be right itself, its id included."""
    example = read_plan(json.dumps(PLAN_EXAMPLE))
    assert violations(example) == ()
    assert check_proofs(example).hold
    assert example.id == plan_id(example.request, seed=0)
    assert example.findings == ()


def test_letters_are_kept_and_order_is_stable() -> None:
    """Two writings of one plan can be compared line by line."""
    named = replace(PLAN, request=replace(PLAN.request, title="Orrelbeck Größe ″"))
    assert "Größe ″" in write_plan(named)
    assert write_plan(named) == write_plan(read_plan(write_plan(named)))


def test_an_edit_by_hand_is_read_and_left_to_the_auditor() -> None:
    """The number decides; the stale millimetres beside it are pointed out."""
    edited = read_plan(changed("/groups/3/bars/1/cuts/0/length_nm", 1_804_000_000))
    assert edited.groups[3].bars[1].cuts[0].length == mm(1804)
    (finding,) = edited.findings
    assert (finding.severity, finding.code) == (Severity.WARNING, "text-disagrees")
    assert finding.where.at == "/groups/3/bars/1/cuts/0/length_mm"
    assert finding.found == "1803"
    assert ("cut-length", "piece B") in {(v.code, v.where) for v in violations(edited)}


def test_texts_for_people_may_be_left_out() -> None:
    """A program that writes plans need not say everything twice."""
    assert read_plan(changed("/groups/0/proof", ...)) == PLAN
    assert read_plan(changed("/totals", ...)) == PLAN


@pytest.mark.parametrize(
    ("path", "value", "code", "at"),
    [
        ("/schema", 2, "not-a-choice", "/schema"),
        ("/id", ..., "missing-key", "/id"),
        ("/seed", "0", "not-a-whole-number", "/seed"),
        ("/groops", [], "unknown-key", "/groops"),
        ("/request/runs/0/length_nm", 0, "out-of-range", "/request/runs/0/length_nm"),
        ("/request/stock/0/length_nm", ..., "missing-key", "/request/stock/0/length"),
        ("/findings", ..., "missing-key", "/findings"),
    ],
)
def test_each_fault_is_refused_at_its_place(path: str, value: Any, code: str, at: str) -> None:
    """What is misspelt in a plan must not be taken for its default."""
    assert (code, at) in faults(path, value)


@pytest.mark.parametrize("text", ["", "null", "[]", '{"schema": 1}', '{"schema": 1, "schema": 1}'])
def test_what_is_no_plan_is_refused(text: str) -> None:
    """Whatever is sent, the answer is a finding, never a crash."""
    assert refused(text)


def test_two_equal_keys_are_refused_in_a_good_plan_too() -> None:
    """The later one would win silently."""
    assert [f.code for f in refused(TEXT.replace('"seed": 0', '"seed": 0, "seed": 1'))] == ["key-twice"]


def test_a_saw_value_taken_out_of_the_request_is_named() -> None:
    """The default that stands in is the request's matter, and is said there."""
    plain = read_plan(changed("/request/saw/grip_nm", ...))
    assert [f.where.at for f in plain.request.findings] == ["/saw/grip"]
