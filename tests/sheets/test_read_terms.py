"""Packs, breaks, bars on hand and the reserve, as a purchaser types them."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import pytest

from nesting.domain.buying import BreakScope, BuyingRules, OffcutValue, PriceBreak, Spares
from nesting.domain.request import Request
from nesting.domain.status import Status
from nesting.errors import InputRefused, Where
from nesting.money import read_money
from nesting.sheets.cells import text_cell
from nesting.sheets.findings import Findings
from nesting.sheets.read_request import read_request
from nesting.sheets.read_terms import breaks_of, breaks_text
from nesting.sheets.template import write_template

RUN = {"Run": "A-1", "Quantity": "2", "Family": "TOLV-17N", "Finish": "natural", "Length": "1806 mm"}
BAR = {"Family": "TOLV-17N", "Finish": "natural", "Length": "2500 mm", "Price": "14.00"}
TEN_OFF = PriceBreak(bars=60, off=1000)


def read(folder: Path, bar: Mapping[str, str], saw: Mapping[str, str] | None = None) -> Request:
    path = folder / "list.xlsx"
    lines = [{"Name": name, "Value": value} for name, value in (saw or {}).items()]
    tables = {"Runs": [RUN], "Families": [{"Family": "TOLV-17N"}], "Stock": [{**BAR, **bar}], "Saw": lines}
    write_template(path, tables)
    return read_request(path)


def test_a_line_keeps_all_its_terms(tmp_path: Path) -> None:
    """Whatever the supplier's list says about a bar ends in the plan's prices."""
    terms = {"On hand": "4", "Value on hand": "2.50", "Pack": "10", "Minimum": "20 bars", "Count": "200"}
    terms |= {
        "Price breaks": "10 % from 60; 12.50 from 100 in all",
        "Supplier": "Orl",
        "Lead days": "14 days",
    }
    (line,) = read(tmp_path, terms).stock
    assert (line.on_hand, line.hand_value, line.pack, line.minimum) == (4, read_money("2.50"), 10, 20)
    assert (line.count, line.supplier, line.lead_days) == (200, "Orl", 14)
    assert line.breaks == (
        TEN_OFF,
        PriceBreak(bars=100, price=read_money("12.50"), scope=BreakScope.TOTAL),
    )


def test_a_line_without_terms_is_sold_bar_by_bar(tmp_path: Path) -> None:
    """Blank cells change nothing."""
    assert read(tmp_path, {}).stock[0].plain


def test_breaks_are_written_as_they_are_read(tmp_path: Path) -> None:
    """A list that is sent back and forth keeps its breaks."""
    said = "10 % from 60; 12.50 from 100 in all"
    breaks = read(tmp_path, {"Price breaks": said}).stock[0].breaks
    assert breaks_text(breaks) == said


@pytest.mark.parametrize(
    ("heading", "wrong", "code"),
    [
        ("Price breaks", "cheaper from 60", "break-not-understood"),
        ("Price breaks", "120 % from 60", "break-not-understood"),
        ("Price breaks", "15.00 from 60", "cannot-exist"),  # dearer than the list price of 14.00
        ("Pack", "a few", "quantity-not-understood"),
    ],
)
def test_terms_that_make_no_sense_are_named_by_cell(
    tmp_path: Path, heading: str, wrong: str, code: str
) -> None:
    """A break that is misread costs money without anybody noticing."""
    with pytest.raises(InputRefused) as refused:
        read(tmp_path, {heading: wrong})
    finding = next(f for f in refused.value.findings if f.severity.refuses)
    assert finding.code == code
    assert str(finding.where).startswith("Stock!")


def test_the_saw_sheet_says_how_the_shop_buys(tmp_path: Path) -> None:
    """Reserve, fetch cost, what offcuts count for and the date hold for the whole order."""
    saw = {"Reserve bars": "1", "Reserve share": "3 %", "Spares from tails": "yes", "Fetch cost": "0.80"}
    saw |= {"Offcut value from": "40 %", "Offcut value to": "80 %", "Needed by": "2027-03-31"}
    assert read(tmp_path, {}, saw).buying == BuyingRules(
        fetch=read_money("0.80"),
        offcut_value=OffcutValue(low=4_000, high=8_000),
        spares=Spares(bars=1, share=300, from_tails=True),
        needed_by="2027-03-31",
    )


@pytest.mark.parametrize(
    ("name", "value"),
    [("Needed by", "soon"), ("Reserve share", "a tenth"), ("Offcut value to", "100 %"), ("Fetch cost", "-1")],
)
def test_rules_that_cannot_be_are_refused(tmp_path: Path, name: str, value: str) -> None:
    """A rule that is skipped in silence would be missed in the order."""
    with pytest.raises(InputRefused) as refused:
        read(tmp_path, {}, {name: value})
    (finding,) = (f for f in refused.value.findings if f.severity.refuses)
    assert finding.where.source == "Saw"


@pytest.mark.parametrize(
    ("said", "status"),
    [
        ("", Status.MEASURED),
        ("Measured", Status.MEASURED),
        ("from drawing", Status.DRAWING),
        ("VIF", Status.VERIFY),
        ("phase 2", Status.VERIFY),  # not understood, so it is not cut from
        ("on hold", Status.HOLD),
    ],
)
def test_the_status_column_says_how_sure_a_size_is(tmp_path: Path, said: str, status: Status) -> None:
    """What nobody has measured must not reach the saw."""
    path = tmp_path / "list.xlsx"
    write_template(
        path, {"Runs": [{**RUN, "Status": said}], "Families": [{"Family": "TOLV-17N"}], "Stock": [BAR]}
    )
    (run,) = read_request(path).runs
    assert run.status is status


def test_breaks_are_read_with_a_comma_and_a_currency() -> None:
    """Protects a list of prices typed on the continent: the same break as with a point."""
    findings = Findings()
    where = Where("Stock", "H2")
    comma = breaks_of(text_cell(2, 8, "13,00 EUR from 100; 2,5 % from 60"), where, findings)
    assert comma == breaks_of(text_cell(2, 8, "13.00 from 100; 2.5 % from 60"), where, findings)
    assert [one.bars for one in comma] == [100, 60]
    assert not findings.all
