"""The worker that a server starts beside itself, and the news it brings."""

from __future__ import annotations

import asyncio
import contextlib
import logging
import os
import subprocess
import sys
import threading
import time
from collections import defaultdict

from api.processes.child import python_path
from api.settings import Settings

log = logging.getLogger(__name__)

RESTART_SECONDS = 1.0


class Notices:
    """
    Wakes whoever waits for a plan.

    A notice may come late or never (a worker on another machine sends none), so waiters look for
    themselves from time to time.
    """

    def __init__(self) -> None:
        self._loop: asyncio.AbstractEventLoop | None = None
        self._waiting: defaultdict[str, set[asyncio.Event]] = defaultdict(set)

    def attach(self, loop: asyncio.AbstractEventLoop) -> None:
        """Say on which event loop the waiters are."""
        self._loop = loop

    def tell(self, plan_id: str) -> None:
        """Wake those who wait for a plan; may be called from any thread."""
        if self._loop is not None:
            with contextlib.suppress(RuntimeError):  # the loop has closed: nobody waits any more
                self._loop.call_soon_threadsafe(self._wake, plan_id)

    async def wait(self, plan_id: str, seconds: float) -> None:
        """Return when there is news of a plan, or after so many seconds."""
        event = asyncio.Event()
        self._waiting[plan_id].add(event)
        try:
            await asyncio.wait_for(event.wait(), seconds)
        except TimeoutError:
            pass
        finally:
            self._waiting[plan_id].discard(event)
            if not self._waiting[plan_id]:
                del self._waiting[plan_id]

    def _wake(self, plan_id: str) -> None:
        for event in self._waiting.get(plan_id, ()):
            event.set()


class Beside:
    """
    Keeps a worker process running beside the server, and ends it with the server.

    Parameters
    ----------
    settings
        Handed on to the worker through its environment.
    """

    def __init__(self, settings: Settings, notices: Notices) -> None:
        self._settings, self._notices = settings, notices
        self._process: subprocess.Popen[str] | None = None
        self._stopping = threading.Event()
        self._keeper = threading.Thread(target=self._keep, name="worker-keeper", daemon=True)

    @property
    def pid(self) -> int | None:
        """Number of the worker's process while it runs."""
        return self._process.pid if self._process and self._process.poll() is None else None

    def start(self) -> None:
        """Start the worker, and again whenever it ends."""
        self._keeper.start()

    def poke(self) -> None:
        """Tell the worker that there is something to do."""
        process = self._process
        if process and process.stdin:
            with contextlib.suppress(OSError, ValueError):  # it has just ended; the next one looks for itself
                process.stdin.write("\n")
                process.stdin.flush()

    def stop(self) -> None:
        """End the worker; what it had goes back into the queue."""
        self._stopping.set()
        process = self._process
        if process is None:
            return
        process.terminate()
        try:
            process.wait(10)
        except subprocess.TimeoutExpired:
            process.kill()
        self._keeper.join(10)

    def _keep(self) -> None:
        while not self._stopping.is_set():
            self._process = process = subprocess.Popen(
                [sys.executable, "-c", "from api.worker.process import main; main()"],
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                text=True,
                env=self._environment(),
            )
            assert process.stdout is not None
            with process.stdout:
                for line in process.stdout:
                    self._notices.tell(line.strip())
            process.wait()
            if process.stdin:
                with contextlib.suppress(OSError):
                    process.stdin.close()
            if not self._stopping.is_set():
                log.error("the worker beside this server ended; starting another")
                time.sleep(RESTART_SECONDS)

    def _environment(self) -> dict[str, str]:
        chosen = {
            "NESTING_DATABASE": self._settings.url,
            "NESTING_SOLVERS": str(self._settings.solvers),
            "NESTING_LEASE_SECONDS": str(self._settings.lease_seconds),
            "NESTING_MAX_ATTEMPTS": str(self._settings.max_attempts),
            "NESTING_MAX_CRASHES": str(self._settings.max_crashes),
            "PYTHONPATH": python_path(),
        }
        return {**os.environ, **chosen}
