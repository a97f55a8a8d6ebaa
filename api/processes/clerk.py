"""Processes that read uploads and write workbooks, so that no file can hurt the server."""

from __future__ import annotations

import queue
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from api.processes.child import Child, ChildDied, TookTooLong
from api.processes.clerk_work import NoMemory, Refused
from api.web.problems import Problem
from nesting.errors import InputRefused

QUEUE_SECONDS = 10.0


class Clerks:
    """
    A few clerk processes, one piece of work each at a time.

    Parameters
    ----------
    count
        Processes.
    seconds
        Longest piece of work, of processor time.
    megabytes
        Largest address space of a process.
    """

    def __init__(self, count: int, *, seconds: float, megabytes: int) -> None:
        self._seconds, self._megabytes = seconds, megabytes
        self._all: list[Child] = []
        self._lock = threading.Lock()
        self._free: queue.Queue[Child | None] = queue.Queue()
        for _ in range(count):
            self._free.put(None)  # started when first needed

    def ask(self, work: Any) -> Any:
        """
        Have a piece of work done.

        Raises
        ------
        InputRefused
            When the clerk found what refuses the input.
        Problem
            When it took too long, needed too much memory, or all clerks are busy.
        """
        with self._clerk() as clerk:
            answer = clerk.ask(work, self._seconds)
        if isinstance(answer, Refused):
            raise InputRefused(answer.findings)
        if isinstance(answer, NoMemory):
            raise Problem(
                422, "file-too-heavy", "The file needs more memory than one may take; save it afresh."
            )
        return answer

    @contextmanager
    def _clerk(self) -> Iterator[Child]:
        try:
            clerk = self._free.get(timeout=QUEUE_SECONDS)
        except queue.Empty:
            detail = "Too many files are being read at the moment; try again."
            raise Problem(503, "busy", detail, headers={"Retry-After": "5"}) from None
        try:
            if clerk is None or not clerk.alive:
                clerk = self._start(clerk)
            yield clerk
        except TookTooLong:
            clerk = None
            detail = f"The file could not be read within {self._seconds:g} seconds."
            raise Problem(422, "file-takes-too-long", detail) from None
        except ChildDied:
            self._end(clerk)
            clerk = None
            raise Problem(422, "file-not-readable", "Reading the file broke off; save it afresh.") from None
        finally:
            self._free.put(clerk)

    def _start(self, old: Child | None) -> Child:
        if old is not None:
            self._end(old)
        clerk = Child("api.processes.clerk_work", nice=5, megabytes=self._megabytes)
        with self._lock:
            self._all.append(clerk)
        return clerk

    def _end(self, clerk: Child | None) -> None:
        if clerk is not None:
            clerk.end()
            with self._lock:
                if clerk in self._all:
                    self._all.remove(clerk)

    def close(self) -> None:
        """End all of them."""
        with self._lock:
            clerks, self._all = self._all, []
        for clerk in clerks:
            clerk.end()
