"""What the reader noticed is said in words of the page, with the cell it is about."""

from __future__ import annotations

from pathlib import Path

from api.pages.new.said import default_words, said_of
from nesting.errors import Finding, Severity, Where
from nesting.sheets.cells import Row, Sheet, text_cell
from nesting.sheets.read_request import read_list

SHEET = Sheet(name="Runs", rows=(Row(number=3, cells={3: text_cell(3, 3, "12oo")}),))


def finding(source: str, at: str) -> Finding:
    return Finding(severity=Severity.ERROR, code="x", where=Where(source, at), found="", message="m")


def test_only_cells_of_the_list_can_be_corrected() -> None:
    """An empty cell of it as well; not the service's own stock, not a setting, not the list as a whole."""
    asked = [
        ("Runs", "C3"),
        ("Runs", "B3"),
        ("Runs", "B9"),
        ("Stock", "C3"),
        ("Runs", ""),
        ("request", "--kerf"),
    ]
    said = list(said_of([finding(*one) for one in asked], [SHEET]))
    assert [one.text for one in said] == ["12oo", "", "", None, None, None]
    assert [one.option for one in said] == ["", "", "", "", "", "kerf"]
    assert said[0].word == "Wrong"


def test_no_option_of_the_command_line_is_named(tmp_path: Path) -> None:
    """Whoever reads the page has no command line; the fields of the page are named instead."""
    path = tmp_path / "list.csv"
    path.write_text("Run,Quantity,Length,Family\nA-1,2,1200,TOLV-17N\n")
    outcome = read_list(path)
    met = " ".join(finding.message for finding in outcome.findings)
    said = " ".join(one.message for one in said_of(outcome.findings, outcome.sheets))
    assert "--unit" in met
    assert "--bar" in met
    assert "--" not in said
    assert "Bars on offer" in said
    assert "unit of bare numbers" in said


def test_defaults_are_said_as_one_says_them() -> None:
    """A field's name and a comma meant for another sentence are not for people."""
    assert default_words("job: 'list', the file's name,") == "job: 'list', the file's name"
    assert default_words("left_end: solid_cap") == "left end: solid_cap"
    assert default_words("unit from above") == "unit from above"
