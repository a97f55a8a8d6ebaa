"""When a worker gives a search up: by the processor's time, so that a busy machine fails nobody's plan."""

from __future__ import annotations

import time
from dataclasses import dataclass
from typing import Any, cast

import pytest

from api.worker.loop import GRACE_SECONDS, PATIENCE, _Bench
from api.worker.queue import Claim


@dataclass
class Busy:
    """A solver process that has used so much of the processor."""

    used: float

    def processor_seconds(self) -> float:
        """Give the time it has used."""
        return self.used


@pytest.mark.parametrize(
    ("ago", "used", "overdue"),
    [
        (20 + GRACE_SECONDS - 1, 500, False),
        (20 + GRACE_SECONDS + 5, 30, False),
        (20 + GRACE_SECONDS + 5, 100 + 20 + GRACE_SECONDS + 1, True),
        (PATIENCE * (20 + GRACE_SECONDS) + 5, 101, True),
    ],
    ids=["in time", "machine busy", "searches on and on", "stuck"],
)
def test_a_search_is_overdue_by_the_processors_time(ago: float, used: float, overdue: bool) -> None:
    """Asked for 20 s, begun when its process had used 100 s; one that does nothing is stuck at last."""
    claim = Claim(plan_id="p", number=1, attempt=1, request="", seed=0, seconds=20, cancelled=False)
    bench = _Bench(cast(Any, Busy(used)), claim=claim, started=time.monotonic() - ago, used=100)
    assert bench.overdue is overdue
