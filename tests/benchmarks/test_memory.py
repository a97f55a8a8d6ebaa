"""Memory of a process with its children."""

import multiprocessing
import os
import time

from benchmarks.memory import AllMemory, descendants


def _hold(mib: int) -> None:
    held = bytearray(b"x" * (mib << 20))
    time.sleep(0.6)
    assert held


def test_children_count() -> None:
    """A batch is held to its memory with its workers, not without them."""
    with AllMemory() as alone:
        time.sleep(0.2)
    child = multiprocessing.get_context("spawn").Process(target=_hold, args=(200,))
    with AllMemory() as both:
        child.start()
        assert child.pid in descendants(os.getpid())
        child.join()
    assert both.processes > alone.processes
    assert both.peak_mib > alone.peak_mib + 150
