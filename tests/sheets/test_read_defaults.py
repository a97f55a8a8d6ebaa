"""What a list leaves out is taken only where one answer is possible, and told."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from nesting.domain.runs import Run
from nesting.domain.stock import StockLine
from nesting.errors import Severity, Where
from nesting.money import read_money
from nesting.sheets.findings import Findings
from nesting.sheets.read_defaults import PLAIN_FAMILY, plain_families, with_families, with_finishes
from nesting.sheets.read_options import ReadOptions
from nesting.sheets.read_request import read_request
from nesting.units import mm
from tests.sheets.messy import A1, HEAD, QUICK, csv, runs

BARE = "Run,Qty,Length (mm),Family,Finish\nA-1,2,1806,TOLV-17N,natural\nA-2,1,598,TOLV-17N,umber\n"
NAMELESS = Run(job="J1", id="A", family="", length=mm(1806), where=Where("Runs", "C2"))
NAMED = replace(NAMELESS, id="B", family="TOLV-17N", where=Where("Runs", "C3"))


def told(findings: Findings) -> list[tuple[str, Severity]]:
    """Give codes and severities."""
    return [(finding.code, finding.severity) for finding in findings.all]


def test_the_only_family_known_is_taken_and_told() -> None:
    """A shop with one channel does not write its name into every line."""
    findings = Findings()
    lines = with_families([NAMELESS, NAMED], ["TOLV-17N"], plain=False, findings=findings)
    assert [line.family for line in lines] == ["TOLV-17N", "TOLV-17N"]
    assert told(findings) == [("default-family", Severity.NOTE)]
    assert "Rows: 1 (Runs!C2)" in findings.all[0].message


def test_among_several_families_nobody_guesses() -> None:
    """The wrong channel is wrong metal; the lines stay as they are until somebody says."""
    findings = Findings()
    assert with_families([NAMELESS], ["TOLV-17N", "SARN-12R"], plain=False, findings=findings) == [NAMELESS]
    assert told(findings) == [("family-missing", Severity.ASK)]


def test_a_list_without_any_catalogue_takes_one_plain_family() -> None:
    """Lengths and quantities alone are enough to plan."""
    findings = Findings()
    (line,) = with_families([NAMELESS], [], plain=True, findings=findings)
    assert line.family == PLAIN_FAMILY
    assert with_families([NAMED], [], plain=True, findings=Findings()) == [NAMED]


def test_the_only_finish_in_stock_is_taken_and_told_once() -> None:
    """Two finishes in stock leave the line as it is; no bar of no finish would be found for it later."""
    stock = [StockLine(family="TOLV-17N", finish="natural", length=mm(2000))]
    findings = Findings()
    lines = with_finishes([NAMED, NAMED, NAMELESS], stock, findings)
    assert [line.finish for line in lines] == ["natural", "natural", ""]
    assert told(findings) == [("default-finish", Severity.NOTE)]
    assert "Rows: 2" in findings.all[0].message
    two = [*stock, replace(stock[0], finish="umber")]
    assert with_finishes([NAMED], two, Findings()) == [NAMED]


def test_plain_families_are_told_unless_something_worse_is() -> None:
    """A list without stock is refused anyway; caps that count for nothing are then no news."""
    findings = Findings()
    families = plain_families([NAMED, NAMED, NAMELESS], findings)
    assert [family.name for family in families] == ["TOLV-17N"]
    assert told(findings) == [("plain-families", Severity.WARNING)]
    silent = Findings()
    assert plain_families([NAMED], silent, tell=False) == families
    assert told(silent) == []


def test_quick_bars_serve_every_material_without_stock(tmp_path: Path) -> None:
    """Protects the five-minute start: a bare list and a bar length are enough to plan."""
    bars = ((mm(2500), read_money("14.00")), (mm(2000), read_money("11.40")))
    request = read_request(csv(BARE)(tmp_path), options=ReadOptions(bars=bars, currency="xts"))
    assert [(bar.finish, bar.length, bar.price) for bar in request.stock] == [
        ("natural", mm(2500), read_money("14.00")),
        ("natural", mm(2000), read_money("11.40")),
        ("umber", mm(2500), read_money("14.00")),
        ("umber", mm(2000), read_money("11.40")),
    ]
    assert request.currency == "XTS"
    assert request.families[0].cap_thickness == 0
    assert "plain-families" in {finding.code for finding in request.findings}


def test_quick_bars_leave_stocked_materials_alone(tmp_path: Path) -> None:
    """Protects a catalogue from bars nobody sells of that material."""
    request = read_request(runs([HEAD, A1, ["A-2", 1, 598, "TOLV-17N", "umber"]])(tmp_path), options=QUICK)
    assert [(bar.finish, str(bar.where)) for bar in request.stock] == [
        ("natural", "Stock!C2"),
        ("umber", "request!--bar"),
    ]
