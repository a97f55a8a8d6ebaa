"""Where a command may write is settled before anything is solved or replaced."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from nesting.cli.app import app
from nesting.cli.outputs import Output, check_outputs
from nesting.errors import InputRefused

BARS = ("--bar", "6000 mm=18.60", "--kerf", "3 mm", "--head-trim", "8 mm", "--tail-loss", "8 mm")


def nesting(*arguments: object) -> Result:
    """Run the command in this process."""
    return CliRunner().invoke(app, [str(argument) for argument in arguments])


@pytest.fixture
def pieces(tmp_path: Path) -> Path:
    """Write a short piece list."""
    path = tmp_path / "pieces.csv"
    path.write_text("id,length,quantity\nA,1806 mm,4\n", encoding="utf-8")
    return path


@pytest.mark.parametrize("name", ["x.csv", "x.ods", "x.xls", "x.pdf", "x"])
def test_a_workbook_keeps_its_ending(pieces: Path, tmp_path: Path, name: str) -> None:
    """Protects against a workbook named as something else, which no program opens."""
    result = nesting("plan", pieces, *BARS, "-o", tmp_path / name)
    assert result.exit_code == 2
    assert "--output" in result.output
    assert not (tmp_path / name).exists()
    assert nesting("template", tmp_path / name).exit_code == 2
    assert not (tmp_path / name).exists()


@pytest.mark.parametrize(
    ("options", "named"),
    [
        (("-o", "missing/plan.xlsx"), "--output"),
        (("--json", "missing/plan.json"), "--json"),
        (("--json", "plan.xlsx"), "--json"),
        (("--pdf", "missing/deep/paper"), "--pdf"),
        (("--pdf", "pieces.csv"), "--pdf"),
        (("-o", "folder.xlsx"), "--output"),
    ],
)
def test_a_wrong_place_is_refused_before_solving(
    pieces: Path, tmp_path: Path, options: tuple[str, str], named: str
) -> None:
    """Protects a long search from ending in a path that cannot be written; the option is named."""
    (tmp_path / "folder.xlsx").mkdir()
    before = sorted(tmp_path.iterdir())
    result = nesting("plan", pieces, *BARS, options[0], tmp_path / options[1])
    assert result.exit_code == 2, result.output
    assert named in result.output
    assert "Order" not in result.output
    assert sorted(tmp_path.iterdir()) == before


def test_an_input_is_never_replaced(tmp_path: Path) -> None:
    """Protects the run list from the plan made of it, also when it is spelled another way."""
    source = tmp_path / "list.xlsx"
    nesting("template", source)
    before = source.read_bytes()
    result = nesting("plan", source, "-o", tmp_path / "." / "list.xlsx")
    assert result.exit_code == 2
    assert "the input" in result.output
    assert source.read_bytes() == before


def test_two_outputs_are_two_files(tmp_path: Path) -> None:
    """Protects either output from the other."""
    same = tmp_path / "plan.json"
    outputs = [
        Output(option="--one", path=same, suffix=".json"),
        Output(option="--two", path=same, suffix=".json"),
    ]
    with pytest.raises(InputRefused) as refused:
        check_outputs(outputs)
    (finding,) = refused.value.findings
    assert finding.where.source == "--two"
    assert "--one" in finding.message


def test_a_closed_folder_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Protects against a traceback at the end: a folder that may not be written to is refused."""
    # The superuser may write anywhere, so the answer of the system is given here.
    monkeypatch.setattr(os, "access", lambda path, mode: False)
    for output in (
        Output(option="-o", path=tmp_path / "plan.xlsx", suffix=".xlsx"),
        Output(option="--pdf", path=tmp_path),
    ):
        with pytest.raises(InputRefused, match="must be settled"):
            check_outputs([output])


def test_a_run_list_is_replaced_by_force_only(tmp_path: Path) -> None:
    """Protects a filled template and the demo's files from being written over."""
    path = tmp_path / "list.xlsx"
    path.write_bytes(b"mine")
    refused = nesting("template", path)
    assert (refused.exit_code, path.read_bytes()) == (2, b"mine")
    assert "--force" in refused.output
    assert nesting("template", path, "--force").exit_code == 0
    assert path.read_bytes() != b"mine"
    runs = tmp_path / "yard" / "runs.xlsx"
    runs.parent.mkdir()
    runs.write_bytes(b"mine")
    assert nesting("demo", runs.parent).exit_code == 2
    assert runs.read_bytes() == b"mine"


def test_what_nobody_foresaw_has_its_own_exit_code() -> None:
    """Protects a script: a fault of ours is neither a plan with pieces left out nor a refused input."""
    code = (
        "import sys\nfrom nesting.cli import app as module\nimport nesting.cli.shell\n"
        "def broken(*_, **__):\n    raise RuntimeError('broken on purpose')\n"
        "import nesting.exchange\nnesting.exchange.plan_schema = broken\n"
        "sys.argv = ['nesting', 'schema', 'plan']\nfrom nesting.cli import main\nmain()\n"
    )
    run = [sys.executable, "-c", code]
    plain = subprocess.run(run, capture_output=True, text=True, check=False)
    assert plain.returncode == 3
    assert "broken on purpose" in plain.stderr
    assert "Traceback" not in plain.stderr
    shown = subprocess.run(
        run, capture_output=True, text=True, check=False, env={**os.environ, "NESTING_DEBUG": "1"}
    )
    assert shown.returncode == 3
    assert "Traceback" in shown.stderr
