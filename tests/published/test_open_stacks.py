"""
The 48 open-stacks instances of the Constraint Modelling Challenge 2005 (Smith and Gent, eds.), MIT.

Needs the folder of instance files, which is no part of the project: environment variable
``NESTING_INSTANCES``, or ``../shared/instances`` beside the checkout.
"""

from __future__ import annotations

import gzip
import json
import os
from pathlib import Path
from typing import Any

import pytest

from nesting.planning.open_units import most_open, order_for_open_units

ROOT = Path(__file__).resolve().parents[2]
FILE = (
    Path(os.environ.get("NESTING_INSTANCES") or ROOT.parent / "shared" / "instances") / "open_stacks.jsonl.gz"
)


def _records() -> list[dict[str, Any]]:
    if not FILE.exists():
        return []
    with gzip.open(FILE, "rt", encoding="utf-8") as lines:
        return [json.loads(line) for line in lines]


@pytest.mark.skipif(not FILE.exists(), reason=f"no {FILE.name} in {FILE.parent}; set NESTING_INSTANCES")
def test_every_known_optimum_is_found_and_proved() -> None:
    """All 48 optima are known; one missed would be a fault of the search or of its bound."""
    records = _records()
    assert len(records) == 48
    for record in records:
        bars: list[list[str]] = [[] for _ in range(record["products"])]
        for customer, products in enumerate(record["orders"]):
            for product in products:
                bars[product].append(f"{customer:03}")
        found = order_for_open_units(bars, max_nodes=10_000)
        assert (record["name"], found.value, found.lower_bound) == (
            record["name"],
            *[record["best_known"]] * 2,
        )
        assert sorted(found.order) == list(range(len(bars)))
        assert most_open([bars[i] for i in found.order]) == record["best_known"]
