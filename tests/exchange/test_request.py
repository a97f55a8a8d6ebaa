"""A request written is the request read again; what is wrong or hardly meant is told at its place."""

from __future__ import annotations

import copy
import json
from dataclasses import replace
from fractions import Fraction
from typing import Any

import jsonschema
import pytest
from hypothesis import given, settings

from nesting.domain.request import Request
from nesting.domain.runs import EndCondition, LengthKind
from nesting.errors import InputRefused, Severity, Where
from nesting.exchange import read_request, request_schema, write_request
from nesting.exchange.request_example import REQUEST_EXAMPLE
from nesting.money import Money
from nesting.units import inches, mm
from tests.exchange.changed_request import changed, faults, refused
from tests.exchange.strategies import requests

UNLIKELY = {"saw-value-unlikely", "price-zero", "very-short", "run-in-sections"}


def test_example_reads_as_written() -> None:
    """What people write comes out exact: inches, metres, bare millimetres, nanometres, a third of one."""
    request = read_request(json.dumps(REQUEST_EXAMPLE))
    run = request.runs[0]
    assert run.length == inches("36 1/4")
    assert (run.kind, run.left, run.right) == (
        LengthKind.OPENING,
        EndCondition.HOLED_CAP,
        EndCondition.SOLID_CAP,
    )
    assert run.where == Where("request", "/runs/0")
    assert request.saw.grip == inches(6)
    assert [line.length for line in request.stock] == [mm(2000), mm(2500)]
    assert [line.price for line in request.stock] == [Money(114_000), Money(140_000)]
    assert request.offcuts[0].length == mm(1250)
    assert request.families[0].cap_thickness == mm("1.5")
    # 300 marks in 5 m: 50/3 mm, not a whole number of nanometres.
    assert request.families[0].strip_pitch == Fraction(50_000_000, 3)
    assert request.findings == ()


@settings(max_examples=60, deadline=None)
@given(requests())
def test_round_trip(request: Request) -> None:
    """Nothing is rounded, renamed or lost on the way out and back, places and columns included."""
    again = read_request(write_request(request))
    warned = tuple(finding for finding in again.findings if finding in request.findings)
    assert replace(again, findings=warned) == request
    assert {f.code for f in again.findings if f not in request.findings} <= UNLIKELY
    assert [run.extra for run in again.runs] == [run.extra for run in request.runs]


@settings(max_examples=25, deadline=None)
@given(requests())
def test_what_we_write_obeys_our_schema(request: Request) -> None:
    """A program that checks documents against the schema must accept ours."""
    jsonschema.Draft202012Validator(request_schema()).validate(json.loads(write_request(request)))


def test_schema_is_one_and_accepts_its_example() -> None:
    """The schema itself obeys draft 2020-12, and every field says what it means."""
    schema = request_schema()
    jsonschema.Draft202012Validator.check_schema(schema)
    jsonschema.Draft202012Validator(schema).validate(schema["examples"][0])
    parts = [schema, *(part for part in schema["$defs"].values() if "properties" in part)]
    for part in parts:
        for name, field in part["properties"].items():
            assert field.get("description"), name


@pytest.mark.parametrize("path", ["/runs/0/length", "/schema"])
def test_schema_wants_what_the_reader_wants(path: str) -> None:
    """A document that the schema lets pass should not fail for a missing key later."""
    tree = json.loads(changed(path, ...))
    assert not jsonschema.Draft202012Validator(request_schema()).is_valid(tree)
    refused(json.dumps(tree))


REFUSALS: list[tuple[str, Any, str, str]] = [
    ("/schema", 2, "not-a-choice", "/schema"),
    ("/schema", ..., "missing-key", "/schema"),
    ("/titel", "x", "unknown-key", "/titel"),
    ("/unit", "furlong", "not-a-choice", "/unit"),
    ("/currency", 5, "not-a-text", "/currency"),
    ("/runs", {}, "not-a-list", "/runs"),
    ("/offcuts/0/tag", "stock:1", "tag-reserved", "/offcuts/0/tag"),
    ("/offcuts/1", {**REQUEST_EXAMPLE["offcuts"][0], "place": "B2"}, "tag-twice", "/offcuts/1/tag"),
    ("/runs/0/family", "TOLV", "unknown-family", "/runs/0/family"),
    ("/runs/1", REQUEST_EXAMPLE["runs"][0], "id-twice", "/runs/1/id"),
    ("/piece_lines/0/id", "OY-305-2", "id-twice", "/piece_lines/0/id"),
    ("/families/1", {"name": "TOLV-17N"}, "family-twice", "/families/1/name"),
]


@pytest.mark.parametrize(("path", "value", "code", "at"), REFUSALS)
def test_each_fault_is_refused_at_its_place(path: str, value: Any, code: str, at: str) -> None:
    """A slip that is planned anyway ends as metal in the bin."""
    assert (code, at) in faults(path, value)


def test_all_faults_are_told_at_once() -> None:
    """Nobody wants to hand in a list ten times to learn of ten slips."""
    tree = copy.deepcopy(REQUEST_EXAMPLE)
    tree["runs"][0]["length"] = "1,250 mm"
    tree["runs"].append({"job": "OY", "id": "B", "family": "TOLV-17N", "length": "4-6", "quantity": 0})
    tree["stock"][0]["prize"] = 1
    places = {f.where.at for f in refused(json.dumps(tree))}
    assert places == {"/runs/0/length", "/runs/1/length", "/runs/1/quantity", "/stock/0/prize"}


def test_a_finding_says_what_was_found_and_what_is_meant() -> None:
    """The message has to be enough to mend the document."""
    (finding,) = refused(changed("/runs/0/lenght", "1806 mm"))
    assert finding.found == "1806 mm"
    assert finding.message == "This key is not known here. Perhaps 'length' is meant."
    (finding,) = refused(changed("/runs/0/length", "1,250 mm"))
    assert finding.severity is Severity.ASK
    assert "It could be 1250 mm or 1.25 mm." in finding.message


def test_bare_number_without_a_unit_is_asked_never_guessed() -> None:
    """36 could be inches or millimetres; a guess costs a bar, or a remake."""
    tree = {"schema": 1, "saw": {}, "stock": [{"family": "T", "length": "2000"}]}
    assert [(f.code, f.severity) for f in refused(json.dumps(tree)) if f.severity.refuses] == [
        ("no-unit", Severity.ASK)
    ]


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("", "not-json"),
        ("{", "not-json"),
        ('{"schema": NaN}', "not-json"),
        ('{"schema": 1e999999999}', "not-json"),
        ("[" * 100_000, "not-json"),
        ("[]", "not-an-object"),
        ('{"schema": 1, "schema": 1}', "key-twice"),
        ('{"schema": 1, "runs": [{"id": "a", "id": "b"}]}', "key-twice"),
        ('{"schema": 1, "title": "\\ud800"}', "not-a-text"),
    ],
)
def test_broken_texts_are_refused(text: str, code: str) -> None:
    """Whatever is sent, the answer is a finding, never a crash."""
    assert code in {f.code for f in refused(text)}


def test_nothing_may_be_said_with_null() -> None:
    """Programs write null where people leave a key out."""
    tree = copy.deepcopy(REQUEST_EXAMPLE)
    tree["runs"][0] |= {"clearance_left": None, "split_rule": None}
    tree["families"][0] |= {"strip_pitch": None}
    tree["stock"][0] |= {"price": None, "length_nm": None}
    request = read_request(json.dumps(tree))
    assert request.runs[0].clearance_left is None
    assert request.families[0].strip_pitch is None
    assert request.stock[0].price is None


def test_findings_name_the_file() -> None:
    """With several files on the desk the place has to say which one."""
    with pytest.raises(InputRefused) as why:
        read_request(changed("/unit", "furlong"), source="order.json")
    assert str(why.value.findings[0].where) == "order.json!/unit"
    assert read_request(changed("/title", "x"), source="order.json").stock[1].where == Where(
        "order.json", "/stock/1"
    )


def test_places_of_an_earlier_reader_are_kept() -> None:
    """A request made from a workbook still points at the workbook's cells."""
    request = read_request(changed("/runs/0/where", {"source": "Runs", "at": "C17"}))
    assert str(request.runs[0].where) == "Runs!C17"


@pytest.mark.parametrize(
    ("path", "value", "code", "at"),
    [
        ("/saw/kerf", "30 mm", "saw-value-unlikely", "/saw/kerf"),
        ("/saw/kerf", "0 mm", "saw-value-unlikely", "/saw/kerf"),
        ("/stock/0/price", "0.00", "price-zero", "/stock/0/price"),
        ("/runs/0/length", "12 mm", "very-short", "/runs/0"),
        ("/runs/0/length", "18060 mm", "run-in-sections", "/runs/0"),
    ],
)
def test_what_is_hardly_meant_is_warned_of(path: str, value: str, code: str, at: str) -> None:
    """A program that sends inches for millimetres is told as a workbook is; nothing is refused for it."""
    request = read_request(changed(path, value))
    assert [(f.severity, f.where.at) for f in request.findings if f.code == code] == [(Severity.WARNING, at)]
    again = read_request(write_request(request))
    assert [f.code for f in again.findings].count(code) == 1
    plain = {f.code for f in read_request(json.dumps(REQUEST_EXAMPLE)).findings}
    assert not plain & UNLIKELY


def test_a_document_may_ask_for_no_more_pieces_than_a_workbook() -> None:
    """Three lines of 100 000 are 300 000: a workbook of them is refused, and no search ends with them."""
    tree = copy.deepcopy(REQUEST_EXAMPLE)
    tree["runs"] = [{**tree["runs"][0], "id": f"A-{number}", "quantity": 100_000} for number in range(3)]
    with pytest.raises(InputRefused) as refused:
        read_request(json.dumps(tree), source="list.json")
    said = [f for f in refused.value.findings if f.code == "too-many-pieces"]
    assert [(f.where.source, f.message) for f in said] == [
        ("list.json", "At most 200000 are planned at once; split the list.")
    ]
