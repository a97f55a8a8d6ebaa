"""Published runs beside ours."""

import gzip
from pathlib import Path

from benchmarks.quality.published import PublishedRun, published_runs


def test_published_runs_are_found_by_name(tmp_path: Path) -> None:
    """Only a status of optimal is a proof."""
    with gzip.open(tmp_path / "published_bcp_600s.jsonl.gz", "wt", encoding="utf-8") as file:
        file.write('{"name": "a", "status": "Optimal", "time_s": 0.5}\n')
        file.write('{"name": "b", "status": "Feasible", "time_s": 600.1}\n')
    assert published_runs(tmp_path) == {"a": PublishedRun(True, 0.5), "b": PublishedRun(False, 600.1)}


def test_a_folder_without_them_has_none(tmp_path: Path) -> None:
    """Own sets of plain text files have no published figures."""
    assert published_runs(tmp_path) == {}
