"""HiGHS, without its greeting and on one thread."""

from __future__ import annotations

from typing import Any


def silent() -> Any:
    """
    Give an engine of one thread that writes nothing; by itself it greets on standard output when made.

    Threads are counted for the whole process: an engine that asks for another number refuses to run.
    """
    import highspy

    class Silent(highspy.Highs):  # type: ignore[misc]
        def enableCallbacks(self) -> None:
            self.setOptionValue("output_flag", False)
            super().enableCallbacks()

    solver = Silent()
    solver.setOptionValue("threads", 1)
    return solver
