"""Memory of a process and of all that it started, with shared pages counted once."""

from __future__ import annotations

import os
import threading
from pathlib import Path
from types import TracebackType

SECONDS = 0.1


class AllMemory:
    """
    Watches this process and its descendants while the ``with`` block runs.

    Pages that several processes share are divided among them (PSS: Linux, Documentation/filesystems/proc),
    so the sum is what the machine really gives.

    Attributes
    ----------
    peak_mib
        Most memory seen, MiB; 0 where the system does not tell.
    processes
        Most processes seen at once.
    """

    def __init__(self) -> None:
        self.peak_mib = 0
        self.processes = 0
        self._done = threading.Event()
        self._thread = threading.Thread(target=self._watch, daemon=True)

    def __enter__(self) -> AllMemory:
        self._thread.start()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, why: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._done.set()
        self._thread.join()

    def _watch(self) -> None:
        while True:
            family = descendants(os.getpid())
            self.processes = max(self.processes, len(family))
            self.peak_mib = max(self.peak_mib, sum(_pss_kib(process) for process in family) // 1024)
            if self._done.wait(SECONDS):
                return


def descendants(process: int) -> list[int]:
    """Give the process and all that it started, directly or not; only itself where there is no ``/proc``."""
    children: dict[int, list[int]] = {}
    for stat in Path("/proc").glob("[0-9]*/stat"):
        try:
            # The name in brackets may hold anything, so the parent is looked for behind it.
            parent = int(stat.read_text("utf-8", "replace").rsplit(")", 1)[1].split()[1])
        except (OSError, IndexError):
            continue  # it ended meanwhile
        children.setdefault(parent, []).append(int(stat.parent.name))
    found = [process]
    for one in found:
        found.extend(children.get(one, ()))
    return found


def _pss_kib(process: int) -> int:
    try:
        lines = Path(f"/proc/{process}/smaps_rollup").read_text("ascii").splitlines()
    except OSError:
        return 0
    return next((int(line.split()[1]) for line in lines if line.startswith("Pss:")), 0)
