"""Published results per instance, to stand beside ours."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from benchmarks.read import records

SOURCE = (
    "da Silva & Schouery (2025), INFORMS J. Comput., doi 10.1287/ijoc.2023.0399, archive "
    "INFORMSJoC/2023.0399, folder CSP-10min: branch-cut-and-price in C++, Gurobi 10.0.1, 600 s, their machine"
)


@dataclass(frozen=True, slots=True)
class PublishedRun:
    """Whether the paper's code proved the instance within 600 s, and in how many seconds."""

    proved: bool
    seconds: float


def published_runs(folder: Path) -> dict[str, PublishedRun]:
    """Give the published run of each instance by its name; empty when the folder has no such file."""
    path = folder / "published_bcp_600s.jsonl.gz"
    if not path.exists():
        return {}
    return {
        record["name"]: PublishedRun(record["status"] == "Optimal", float(record["time_s"]))
        for record in records(path)
    }
