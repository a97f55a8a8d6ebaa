"""The processes below a process, as Linux tells them."""

from __future__ import annotations

import os
import signal
from contextlib import suppress
from pathlib import Path


def children(process: int) -> list[int]:
    """Give the numbers of the processes another one has started and that still run."""
    found: list[int] = []
    for task in Path(f"/proc/{process}/task").glob("*/children"):
        with suppress(OSError):
            found += [int(word) for word in task.read_text().split()]
    return found


def workers_below(server: int) -> list[int]:
    """Give the worker processes a server keeps beside itself."""
    return [child for child in children(server) if "api.worker.process" in _command(child)]


def solvers_below(process: int) -> list[int]:
    """Give the solver processes anywhere below a process."""
    below = children(process)
    return [
        *(child for child in below if "api.processes.solver" in _command(child)),
        *(solver for child in below for solver in solvers_below(child)),
    ]


def kill(process: int) -> None:
    """End a process at once; nothing happens when it has just ended."""
    with suppress(ProcessLookupError):
        os.kill(process, signal.SIGKILL)


def _command(process: int) -> str:
    try:
        return Path(f"/proc/{process}/cmdline").read_bytes().replace(b"\0", b" ").decode(errors="replace")
    except OSError:
        return ""
