"""What was noticed is told on the terminal too, short, and what was taken for granted in one line."""

from __future__ import annotations

import io
from pathlib import Path

from rich.console import Console
from typer.testing import CliRunner, Result

from nesting.cli.app import app
from nesting.cli.findings import granted, print_findings, print_warnings
from nesting.errors import Finding, Severity, Where


def finding(severity: Severity, code: str, message: str, at: str = "C2") -> Finding:
    """Give a finding in the sheet Runs."""
    return Finding(severity=severity, code=code, where=Where("Runs", at), found="x", message=message)


def shown(findings: list[Finding]) -> str:
    """Give what is printed of the warnings."""
    out = io.StringIO()
    print_warnings(findings, Console(file=out, width=200))
    return out.getvalue()


def nesting(*arguments: object) -> Result:
    """Run the command in this process."""
    return CliRunner().invoke(app, [str(argument) for argument in arguments])


def test_ten_warnings_are_shown_and_the_rest_counted() -> None:
    """Protects the answer from being pushed off the screen; nothing is dropped without a word."""
    many = [finding(Severity.WARNING, "very-short", "Check it.", f"C{n}") for n in range(2, 15)]
    text = shown([*many, many[0], finding(Severity.NOTE, "spelling", "Read as.")])
    assert text.count("Check it.") == 10
    assert "3 more in the Findings sheet" in text
    assert "Read as." not in text


def test_no_warning_prints_nothing() -> None:
    """Protects a pipe: a clean list and defaults write nothing to stderr."""
    assert shown([finding(Severity.WARNING, "default-kerf", "No kerf is given; 3 mm is taken.")]) == ""


def test_defaults_are_one_line() -> None:
    """Protects the buyer: kerf and kinds nobody gave stand in one line, added up over lists."""
    line = granted(
        [
            finding(
                Severity.WARNING, "default-kerf", "No kerf is given; 3 mm is taken (common practice). Width."
            ),
            finding(Severity.NOTE, "default-kind", "No kind is given; finished is taken. Rows: 12 (C2, C3)."),
            finding(
                Severity.NOTE, "default-kind", "No kind is given; finished is taken. Rows: 3 (C2).", "D2"
            ),
            finding(Severity.NOTE, "run-in-sections", "Made in 2 sections."),
        ]
    )
    assert line == (
        "Taken for granted: kerf 3 mm; kind finished (15 lines); "
        "1 run longer than a bar made in sections (x)."
    )
    assert granted([]) == ""


def test_an_extra_zero_is_named_on_the_terminal(tmp_path: Path) -> None:
    """Protects the shop from 18060 for 1806: run, length and sections are said, with the cell."""
    path = tmp_path / "runs.csv"
    path.write_text(
        "job,run,length mm,quantity\nYard,A-1,1806,1\nYard,A-2,18060,1\nYard,A-3,904,1\n", encoding="utf-8"
    )
    # 6000 - 8 - 8 = 5984 a bar yields; 18060 / 5984 = 3.02
    said = " ".join(nesting("plan", path, "--bar", "6000 mm", "--kerf", "3 mm").stderr.split())
    assert "Warning, runs.csv!C3: 'Yard A-2': The run of 18060 mm" in said
    assert "in 4 sections with joints: 4515 + 4515 + 4515 + 4515 mm" in said


def test_a_refusal_says_what_did_not_happen() -> None:
    """Protects the reader of an audit: it planned nothing anyway."""
    out = io.StringIO()
    refused = finding(Severity.ERROR, "no-unit", "Give a unit.")
    default = finding(Severity.WARNING, "default-kerf", "No kerf is given; 3 mm is taken.")
    print_findings([default, refused], Console(file=out, width=200), nothing="Nothing was audited.")
    assert "kerf" not in out.getvalue()
    assert "1 finding(s) must be settled first. Nothing was audited." in out.getvalue()


def test_a_plan_tells_its_warnings_and_assumptions(tmp_path: Path) -> None:
    """Protects the buyer who never opens the workbook."""
    path = tmp_path / "pieces.csv"
    path.write_text("id,length,quantity\nA,1806 mm,4\nB,12 mm,1\n", encoding="utf-8")
    result = nesting("plan", path, "--bar", "6000 mm=18,60 EUR")
    assert result.exit_code == 0, result.output
    assert "Taken for granted: kerf 3 mm; head trim 8 mm" in " ".join(result.stdout.split())
    assert "Warning, pieces.csv!B3" in result.stderr
    assert result.stdout.index("Order") < result.stdout.index("Taken for granted")


def test_a_file_that_is_no_plan_is_called_so(tmp_path: Path) -> None:
    """Protects against findings about a document nobody gave."""
    path = tmp_path / "other.json"
    path.write_text('{"id": 1}', encoding="utf-8")
    result = nesting("audit", path)
    assert result.exit_code == 2
    assert "other.json" in result.output
    assert "holds no plan" in result.output
    assert "Nothing was audited" in result.output
    path.write_text('{"groups": []}', encoding="utf-8")
    result = nesting("diff", path, path)
    assert "other.json!/" in result.output
    assert "plan!/" not in result.output


def test_help_is_whole() -> None:
    """Protects the first look: no line cut off, no name of a type, the exit codes below."""
    result = nesting("--help")
    assert "..." not in result.output.partition("Commands:")[2]
    for code in ("0", "1", "2", "3", "130"):
        assert f"  {code} " in result.output
    for command in ("plan", "compare", "replan"):
        assert "list[str]" not in nesting(command, "--help").output
