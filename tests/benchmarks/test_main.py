"""The command line of the benchmarks."""

import gzip
import json
from pathlib import Path

import pytest

from benchmarks import __main__ as command


def test_a_misspelt_class_ends_with_the_usage(capsys: pytest.CaptureFixture[str]) -> None:
    """The known classes are listed where the mistake was made."""
    with pytest.raises(SystemExit):
        command.main(["quality", "--classes", "hard29"])
    assert "No such class: hard29" in capsys.readouterr().err


def test_a_missing_folder_ends_with_the_usage(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Nobody should have to read a traceback to learn that a folder is missing."""
    with pytest.raises(SystemExit):
        command.main(["quality", "--classes", "hard28", "--instances", str(tmp_path)])
    assert "hard28.jsonl.gz" in capsys.readouterr().err


def test_quality_runs_from_the_command_line(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """One case in, one line said, one row and one table written."""
    record = {"name": "one", "capacity": 10, "lengths": [6, 4], "demands": [1, 1], "best_known": 1}
    with gzip.open(tmp_path / "hard28.jsonl.gz", "wt", encoding="utf-8") as file:
        file.write(json.dumps(record) + "\n")
    arguments = ["--classes", "hard28", "--instances", str(tmp_path), "--out", str(tmp_path / "out")]
    assert command.main(["quality", *arguments, "--time-limit", "5"]) == 0
    assert "hard28 one: 1 (bound 1, known 1) proved" in capsys.readouterr().out
    assert (tmp_path / "out" / "quality.md").exists()
    assert (tmp_path / "out" / "quality_hard28.csv").exists()
