"""Published classes."""

import gzip
import json
from pathlib import Path

from benchmarks.registry import case_classes


def _write(folder: Path, name: str, record: dict[str, object]) -> None:
    with gzip.open(folder / f"{name}.jsonl.gz", "wt", encoding="utf-8") as file:
        file.write(json.dumps(record) + "\n")


def test_series_are_the_papers_own_sets(tmp_path: Path) -> None:
    """Results are compared set by set: by letters, by pieces, by the stated class."""
    base = {"lengths": [6, 4], "demands": [1, 2], "best_known": 2, "optimal": True}
    _write(tmp_path, "gi", {"name": "csAB125_3", "capacity": 10, **base})
    _write(tmp_path, "ai", {"name": "201_2500_DI_0", "capacity": 10, **base})
    stock = {"stock_lengths": [10], "stock_supply": [9], "stock_costs": [10], "class": "Belov2"}
    _write(tmp_path, "vscsp_belov", {"name": "b", **stock, **base})
    series = {name: case_classes()[name].load(tmp_path)[0].series for name in ("gi", "ai", "vscsp_belov")}
    assert series == {"gi": "AB", "ai": "n = 3", "vscsp_belov": "Belov2"}


def test_pattern_reduction_compares_bars_not_patterns(tmp_path: Path) -> None:
    """That set's best known value counts patterns; its bars are called rolls, and nobody proved them."""
    record = {"name": "PR", "capacity": 10, "lengths": [6, 4], "demands": [1, 1], "rolls": 5, "best_known": 3}
    _write(tmp_path, "pattern_reduction", {**record, "optimal": True})
    case = case_classes()["pattern_reduction"].load(tmp_path)[0]
    assert (case.best_known, case.optimal) == (5, None)
