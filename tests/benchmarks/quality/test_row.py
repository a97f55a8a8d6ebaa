"""One row of the quality table."""

import dataclasses

from benchmarks.quality.row import Row

ROW = Row(
    case_class="hard28",
    series="",
    name="BPP13",
    lengths=100,
    pieces=180,
    bound=66,
    value=67,
    gap=0.014925,
    best_known=67,
    against="equal",
    proved=False,
    seconds=1.25,
    cpu_seconds=1.0,
    peak_mib=120,
    ended="time limit",
    time_limit=60.0,
    seed=1,
    warm=True,
    revision="abc123",
    processor="some processor, 2 cores",
    load=0.5,
)


def test_another_revision_limit_or_seed_is_another_measurement() -> None:
    """Resuming must never take an old engine's row for the new one's."""
    others = (
        dataclasses.replace(ROW, revision="def456"),
        dataclasses.replace(ROW, time_limit=600.0),
        dataclasses.replace(ROW, seed=2),
    )
    assert all(other.key != ROW.key for other in others)
    assert dataclasses.replace(ROW, seconds=9.0).key == ROW.key
