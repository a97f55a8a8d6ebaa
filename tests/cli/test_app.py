"""The command line as its user meets it: files in, files out, exit codes."""

from __future__ import annotations

import json
from pathlib import Path

import jsonschema
import openpyxl
import pytest
from typer.testing import CliRunner, Result

from nesting.cli.app import app

LIST = "id,length,quantity\nA,1806 mm,4\nB,920.75 mm,3\n"


def nesting(*arguments: object) -> Result:
    """Run the command in this process."""
    return CliRunner().invoke(app, [str(argument) for argument in arguments])


@pytest.fixture
def pieces(tmp_path: Path) -> Path:
    """Write a short piece list that names no material."""
    path = tmp_path / "pieces.csv"
    path.write_text(LIST, encoding="utf-8")
    return path


def planned(pieces: Path, *more: object) -> Result:
    """Plan the short list on 6 m bars."""
    options = ("--bar", "6000 mm=18.60", "--kerf", "3 mm", "--head-trim", "8 mm", "--tail-loss", "8 mm")
    return nesting("plan", pieces, *options, "--keep-length", "400 mm", *more)


def test_a_plan_is_written_and_told(pieces: Path, tmp_path: Path) -> None:
    """One command gives workbook and JSON and says what to order; exit code 0."""
    book, document = tmp_path / "plan.xlsx", tmp_path / "plan.json"
    result = planned(pieces, "-o", book, "--json", document)
    assert result.exit_code == 0, result.output
    # 4 x 1809 + 3 x 923.75 = 10007.25 is more than one bar's 5987, less than two
    assert "Order 2 bars of 6000 mm" in result.output
    assert "Summary" in openpyxl.load_workbook(book).sheetnames
    assert len(json.loads(document.read_text("utf-8"))["pieces"]) == 7


def test_the_paper_is_printed_on_request(pieces: Path, tmp_path: Path) -> None:
    """``--pdf`` fills a folder; without it nothing is printed."""
    folder = tmp_path / "paper"
    result = planned(pieces, "--pdf", folder)
    assert result.exit_code == 0, result.output
    printed = {path.name for path in folder.iterdir()}
    assert {"cut-sheets.pdf", "piece-labels.pdf", "purchase-summary.pdf"} <= printed


def test_an_audit_passes_and_a_hand_edit_is_named(pieces: Path, tmp_path: Path) -> None:
    """The plan passes its audit; one changed cut makes it fail with exit code 1, naming the piece."""
    document = tmp_path / "plan.json"
    planned(pieces, "--json", document)
    assert nesting("audit", document).exit_code == 0
    plan = json.loads(document.read_text("utf-8"))
    cut = plan["groups"][0]["bars"][0]["cuts"][0]
    cut["length_nm"] += 1_000_000
    document.write_text(json.dumps(plan), encoding="utf-8")
    result = nesting("audit", document)
    assert result.exit_code == 1
    assert cut["piece"] in result.output


def test_what_cannot_be_placed_gives_exit_code_1(tmp_path: Path) -> None:
    """A piece longer than every bar is told and the rest is planned."""
    path = tmp_path / "pieces.csv"
    path.write_text("id,length,quantity\nA,1806 mm,1\nB,7000 mm,1\n", encoding="utf-8")
    result = planned(path)
    assert result.exit_code == 1
    # "7000 mm is longer than any bar of ... gives (5984 mm after trims)": 6000 less 8 at either end
    assert "longer than any bar" in result.output
    assert "5984 mm" in result.output


def test_a_refused_list_gives_exit_code_2_with_every_cell(tmp_path: Path) -> None:
    """All findings at once, each with its cell; nothing is planned."""
    path = tmp_path / "pieces.csv"
    path.write_text("id,length,quantity\nA,4-6,1\nB,VIF,1\n", encoding="utf-8")
    result = planned(path)
    assert result.exit_code == 2
    assert "B2" in result.output
    assert "B3" in result.output


@pytest.mark.parametrize(
    ("options", "named"),
    [
        (("--kerf", "three"), "--kerf"),
        (("--unit", "cubits"), "--unit"),
        (("--bar", "6000"), "--bar"),
        (("--bar", "6000 mm=cheap"), "--bar"),
    ],
)
def test_a_misread_option_is_named(pieces: Path, options: tuple[str, str], named: str) -> None:
    """Options are checked like cells: which one, what was found, what is accepted."""
    result = nesting("plan", pieces, *options)
    assert result.exit_code == 2
    assert named in result.output
    assert (options[1].partition("=")[2] or options[1]) in result.output


def test_a_job_the_list_does_not_have_is_named(pieces: Path) -> None:
    """A misspelt job must not plan nothing in silence."""
    result = planned(pieces, "--job", "nowhere")
    assert result.exit_code == 2
    assert "--job" in result.output
    assert "nowhere" in result.output


def test_a_missing_file_is_refused(tmp_path: Path) -> None:
    """No traceback for a wrong path."""
    for name in ("no.xlsx", "no.csv", "no.json"):
        result = nesting("plan", tmp_path / name)
        assert (result.exit_code, "no.") == (2, "no."), result.output
    assert nesting("audit", tmp_path / "no.json").exit_code == 2


def test_the_template_plans_once_filled(tmp_path: Path) -> None:
    """The empty template is refused for want of lines, not with an error of ours."""
    path = tmp_path / "list.xlsx"
    assert nesting("template", path).exit_code == 0
    result = nesting("plan", path)
    assert result.exit_code == 2
    assert "list.xlsx" in result.output
    assert "Traceback" not in result.output


def test_the_demo_writes_everything(tmp_path: Path) -> None:
    """The demo's input, workbook and JSON, planned and audited."""
    result = nesting("demo", tmp_path / "yard")
    assert result.exit_code == 0, result.output
    assert {path.name for path in (tmp_path / "yard").iterdir()} == {"runs.xlsx", "plan.xlsx", "plan.json"}
    assert nesting("audit", tmp_path / "yard" / "plan.json").exit_code == 0


def test_one_job_can_be_planned_alone(tmp_path: Path) -> None:
    """``--job`` leaves the other jobs out."""
    nesting("demo", tmp_path)
    document = tmp_path / "one.json"
    result = nesting("plan", tmp_path / "runs.xlsx", "--job", "Wendlecombe Kiosk", "--json", document)
    assert result.exit_code == 0, result.output
    plan = json.loads(document.read_text("utf-8"))
    assert {piece["job"] for piece in plan["pieces"]} == {"Wendlecombe Kiosk"}


@pytest.mark.parametrize("kind", ["request", "plan"])
def test_schemas_are_schemas(kind: str) -> None:
    """What ``schema`` prints is valid JSON Schema of the 2020-12 draft."""
    result = nesting("schema", kind)
    assert result.exit_code == 0
    jsonschema.Draft202012Validator.check_schema(json.loads(result.output))


def test_a_cut_plan_takes_measured_sizes_only(tmp_path: Path) -> None:
    """``--for cut`` lists what is not measured as left out, with exit code 1; the default orders for it."""
    path = tmp_path / "pieces.csv"
    path.write_text("id,length,quantity,status\nA,1806 mm,4,measured\nB,920 mm,3,drawing\n", encoding="utf-8")
    order, cut = planned(path), planned(path, "--for", "cut")
    assert (order.exit_code, cut.exit_code) == (0, 1)
    assert "4 of 7 sizes are measured (57.1 %), 3 from drawings." in order.output
    assert "a cut plan takes measured" in " ".join(cut.output.split())


def test_growth_margins_are_found_on_request(tmp_path: Path) -> None:
    """Two runs of 980 on 2000: 8 + 2 x 990 + 3 + 8 = 1999, so they may grow by 10 (steps of 0.5: 10.5)."""
    path = tmp_path / "runs.csv"
    path.write_text("run,length,quantity,family\nA,980 mm,2,PLAIN\n", encoding="utf-8")
    options = ("--bar", "2000 mm=12.00", "--kerf", "3 mm", "--head-trim", "8 mm", "--tail-loss", "8 mm")
    told = nesting("plan", path, *options, "--margins")
    assert told.exit_code == 0, told.output
    assert "every run may grow 10.5 mm at no more cost" in " ".join(told.output.split())
    assert "may grow" not in nesting("plan", path, *options).output


def test_second_goals_are_asked_for_and_told(pieces: Path, tmp_path: Path) -> None:
    """The five options reach the plan; screen, workbook and document tell what became of each."""
    book, document = tmp_path / "plan.xlsx", tmp_path / "plan.json"
    options = ("--fewer-patterns", "--gang", "2", "--few-open-units", "--long-tail", "--slivers", "forbid")
    result = planned(pieces, *options, "-o", book, "--json", document)
    assert result.exit_code == 0, result.output
    shown = " ".join(result.output.split())
    for words in (
        "different pattern",
        "open at once",
        "with 2 bars clamped at once",
        "the ban cost nothing",
        "longest tail",
    ):
        assert words in shown
    plan = json.loads(document.read_text("utf-8"))
    (group,) = plan["groups"]
    assert {goal["goal"]: goal["goal_price"] for goal in group["goals"]} == {
        "slivers": "0",
        "longest tail": "0",
        "patterns": "0",
        "most open units": "0",
        "strokes": "0",
    }
    assert plan["request"]["goals"] == {
        "fewer_patterns": True,
        "gang": 2,
        "open_units": True,
        "long_tail": True,
        "slivers": "forbid",
    }
    summary = openpyxl.load_workbook(book)["Summary"]
    texts = [str(cell.value) for row in summary.iter_rows() for cell in row if cell.value]
    assert "Second goals" in texts
    assert any("with 2 bars clamped at once" in text for text in texts)
    assert nesting("audit", document).exit_code == 0


def test_a_gang_of_none_is_refused(pieces: Path) -> None:
    """A clamp holds at least one bar; the option says so before anything is planned."""
    assert planned(pieces, "--gang", "0").exit_code == 2


def test_an_option_without_a_unit_says_how_to_add_one(pieces: Path) -> None:
    """An option has no heading that could name its unit; the message says what to type."""
    result = nesting("plan", pieces, "--bar", "6000 mm", "--kerf", "3")
    assert result.exit_code == 2
    assert "'3 mm'" in result.output
    assert "heading" not in result.output


def test_nothing_needs_no_unit_and_a_fraction_is_one_of_an_inch(pieces: Path) -> None:
    """A trim of 0 is as much in every unit; 1/8 is never offered as millimetres."""
    assert planned(pieces, "--head-trim", "0", "--tail-loss", "0").exit_code == 0
    result = nesting("plan", pieces, "--bar", "6000 mm", "--kerf", "1/8")
    assert result.exit_code == 2
    assert "'1/8 in'" in result.output
    assert "1/8 mm" not in result.output


@pytest.mark.parametrize("price", ["18,60", "18.60 EUR", "€18.60"])
def test_prices_of_bars_are_read_as_people_type_them(pieces: Path, tmp_path: Path, price: str) -> None:
    """A decimal comma and a currency give the same order; the currency stands in the plan."""
    document = tmp_path / "plan.json"
    result = nesting("plan", pieces, "--bar", f"6000 mm={price}", "--json", document)
    assert result.exit_code == 0, result.output
    assert "37.20" in result.output  # 2 x 18.60
    currency = json.loads(document.read_text("utf-8"))["request"].get("currency", "")
    assert currency == ("EUR" if price != "18,60" else "")


def test_a_price_that_may_be_thousands_is_refused(pieces: Path) -> None:
    """1,250 is asked about, not guessed."""
    result = nesting("plan", pieces, "--bar", "6000 mm=1,250")
    assert result.exit_code == 2
    assert "1250.00" in result.output
    assert "1.25" in result.output
