"""The speed suite as a whole."""

from pathlib import Path

import pytest

from benchmarks.speed import suite
from benchmarks.speed.suite import named_tasks, run_speed
from benchmarks.speed.timing import Timing
from tests.benchmarks.speed.test_scale import POINTS


def test_a_misspelt_task_is_refused(tmp_path: Path) -> None:
    """Before anything is run, with the known names."""
    with pytest.raises(ValueError, match=r"No such task: worbook\. Known: workbook, "):
        run_speed(("worbook",), time_limit=1, out=tmp_path)


def test_table_points_and_plot_are_left_in_the_folder(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """One page for the tasks, one file of points, one picture."""
    timing = Timing(task="some task", seconds=(1.0,))
    monkeypatch.setattr(suite, "named_tasks", lambda time_limit: {"group": lambda: timing})
    monkeypatch.setattr(suite, "measure_scale", lambda *, time_limit, say: POINTS)
    assert run_speed(("group", "scale"), time_limit=1, out=tmp_path / "out") == (timing,)
    assert {path.name for path in (tmp_path / "out").iterdir()} == {"speed.md", "scale.csv", "scale.svg"}
    assert "some task" in (tmp_path / "out" / "speed.md").read_text("utf-8")


def test_every_task_has_a_name() -> None:
    """The names are what the command line offers."""
    assert set(named_tasks(1)) == {
        "workbook",
        "paper",
        "group",
        "book",
        "book-one-process",
        "large-book",
        "large-book-one-process",
    }
