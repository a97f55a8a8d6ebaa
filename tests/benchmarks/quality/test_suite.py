"""The quality suite as a whole."""

import gzip
import json
from pathlib import Path

from benchmarks.quality.row import Row
from benchmarks.quality.suite import run_quality, write_table
from benchmarks.registry import named
from benchmarks.rows import read
from nesting.domain.problem import Problem
from nesting.domain.progress import Result
from tests.benchmarks.brute_force import brute_force


def _folder(tmp_path: Path) -> Path:
    base = {"capacity": 10, "lengths": [6, 5, 4], "demands": [1, 2, 1], "best_known": 2, "optimal": True}
    with gzip.open(tmp_path / "hard28.jsonl.gz", "wt", encoding="utf-8") as file:
        for name in ("a", "b", "c"):
            file.write(json.dumps({"name": name, **base}) + "\n")
    return tmp_path


class _Counting:
    """Counts how often the engine is asked."""

    def __init__(self) -> None:
        self.calls = 0

    def __call__(self, problem: Problem, *, seed: int, time_limit: float) -> Result:
        self.calls += 1
        return brute_force(problem)


def test_rows_and_table_are_written(tmp_path: Path) -> None:
    """One CSV a class and one table over all."""
    said: list[str] = []
    rows = run_quality(
        named("hard28"),
        instances=_folder(tmp_path),
        out=tmp_path / "out",
        time_limit=5,
        engine=brute_force,
        revision="r",
        say=said.append,
    )
    assert [row.name for row in rows] == ["a", "b", "c"]
    assert read(tmp_path / "out" / "quality_hard28.csv", Row) == rows
    assert "| hard28 | - | 3 | 3 | 3 of 3 |" in (tmp_path / "out" / "quality.md").read_text("utf-8")
    assert len(said) == 3


def test_resuming_runs_only_what_is_missing(tmp_path: Path) -> None:
    """Six thousand cases at a minute each do not run in one sitting."""
    engine = _Counting()

    def run(sample: int | None, revision: str) -> int:
        rows = run_quality(
            named("hard28"),
            instances=_folder(tmp_path),
            out=tmp_path,
            time_limit=5,
            sample=sample,
            resume=True,
            engine=engine,
            revision=revision,
        )
        return len(rows)

    assert (run(1, "r"), engine.calls) == (1, 1)
    assert (run(None, "r"), engine.calls) == (3, 3)
    assert (run(None, "r"), engine.calls) == (3, 3)
    assert (run(None, "s"), engine.calls) == (3, 6)


def test_the_table_covers_every_class_measured_so_far(tmp_path: Path) -> None:
    """Classes are run one after another; the last one must not wipe out the others' lines."""
    folder = _folder(tmp_path)
    (folder / "waescher.jsonl.gz").write_bytes((folder / "hard28.jsonl.gz").read_bytes())
    for name, revision in (("hard28", "r"), ("waescher", "r"), ("waescher", "r"), ("waescher", "other")):
        run_quality(
            named(name), instances=folder, out=folder, time_limit=5, engine=brute_force, revision=revision
        )
    write_table(folder, folder, revision="r", time_limit=5, seed=1)
    text = (folder / "quality.md").read_text("utf-8")
    assert "| hard28 | - | 3 | 3 |" in text
    assert "| waescher | - | 3 | 3 |" in text
    assert "other" not in text
