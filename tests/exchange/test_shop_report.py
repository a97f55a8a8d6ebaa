"""A report from the shop as JSON reads back as written, and names its faults where they stand."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from nesting.domain.made import Span
from nesting.domain.report import BarReport, Miscut, Outcome, ShopReport
from nesting.errors import InputRefused, Where
from nesting.exchange import read_shop_report, shop_report_schema, write_shop_report
from nesting.exchange.shop_report import SHOP_REPORT_EXAMPLE
from nesting.units import Length, mm

_LENGTHS = st.integers(1, 10**10).map(Length)
_MISCUTS = st.lists(st.builds(Miscut, st.text("abc/.", min_size=1), st.none() | _LENGTHS), max_size=2).map(
    lambda made: tuple({one.piece: one for one in made}.values())
)


@st.composite
def _bars(draw: st.DrawFn, number: int) -> BarReport:
    outcome = draw(st.sampled_from(Outcome))
    if outcome in (Outcome.FROZEN, Outcome.NOT_FOUND):
        return BarReport(bar=number, outcome=outcome)
    if outcome is Outcome.DONE:
        tail = draw(st.none() | st.just(Length(0)) | _LENGTHS)
        return BarReport(bar=number, outcome=outcome, tail=tail, miscuts=draw(_MISCUTS))
    start = draw(_LENGTHS)
    return BarReport(
        bar=number,
        outcome=outcome,
        made=draw(st.integers(0, 9)),
        miscuts=draw(_MISCUTS),
        defects=draw(st.sampled_from([(), (Span(start, Length(start + 5)),)])),
    )


@st.composite
def _reports(draw: st.DrawFn) -> ShopReport:
    bars = tuple(draw(_bars(number)) for number in range(1, draw(st.integers(1, 4))))
    return ShopReport(
        plan=draw(st.text("0123", max_size=3)), bars=bars, lost=tuple(draw(st.sets(st.text("R1"))))
    )


@given(_reports())
def test_what_is_written_reads_back(report: ShopReport) -> None:
    """Nothing that the saw reports may get lost on the way."""
    read = read_shop_report(write_shop_report(report))
    assert replace(read, bars=tuple(replace(bar, where=Where("")) for bar in read.bars)) == replace(
        report, bars=tuple(replace(bar, where=Where("")) for bar in report.bars)
    )


def test_the_example_is_read_in_its_unit() -> None:
    """Bare numbers are millimetres when the report says so."""
    report = read_shop_report(json.dumps(SHOP_REPORT_EXAMPLE))
    assert report.bars[0].tail == mm("91.5")
    assert report.bars[1].miscuts == (Miscut("OY-305-2", mm(612)),)
    assert report.bars[2].defects == (Span(mm(1500), mm(1510)),)
    assert report.bars[3].where == Where("report", "/bars/3")


def test_the_schema_takes_the_example() -> None:
    """What the schema shows must pass the schema."""
    schema = shop_report_schema()
    Draft202012Validator.check_schema(schema)
    Draft202012Validator(schema).validate(SHOP_REPORT_EXAMPLE)


@pytest.mark.parametrize(
    ("bar", "code", "at"),
    [
        ({"bar": 1, "outcome": "done", "tail": 90}, "no-unit", "/bars/0/tail"),
        ({"bar": 1, "outcome": "gone"}, "not-a-choice", "/bars/0/outcome"),
        ({"bar": 1, "outcome": "done", "tial": "90 mm"}, "unknown-key", "/bars/0/tial"),
        ({"bar": 1, "outcome": "frozen", "made": 2}, "cannot-be", "/bars/0"),
        ({"bar": 1, "outcome": "frozen", "tail": "5 mm"}, "cannot-be", "/bars/0"),
        (
            {"bar": 1, "outcome": "stopped", "defects": [{"start": "9 mm", "end": "8 mm"}]},
            "cannot-be",
            "/bars/0/defects/0",
        ),
    ],
)
def test_faults_are_named_where_they_stand(bar: dict[str, object], code: str, at: str) -> None:
    """A report is typed in at the saw: every slip is told at its place."""
    with pytest.raises(InputRefused) as refused:
        read_shop_report(json.dumps({"schema": 1, "bars": [bar]}))
    assert [(f.code, f.where.at) for f in refused.value.findings] == [(code, at)]


def test_a_bar_is_reported_once() -> None:
    """Two reports of one bar cannot both hold."""
    twice = {"schema": 1, "bars": [{"bar": 3, "outcome": "done"}, {"bar": 3, "outcome": "frozen"}]}
    with pytest.raises(InputRefused, match="1 finding"):
        read_shop_report(json.dumps(twice))
