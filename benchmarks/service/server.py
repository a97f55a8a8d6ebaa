"""A service in processes of its own, on loopback, that can be killed and started again."""

from __future__ import annotations

import os
import signal
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

ROOT = Path(__file__).parents[2]
STARTS_WITHIN = 180.0
"""Seconds; a second or two on a machine that has nothing else to do."""


class Server:
    """
    ``nesting serve`` on one database, and workers beside it.

    Parameters
    ----------
    database
        SQLAlchemy URL.
    solvers
        Solver processes of the server's own worker; 0 for none.
    """

    def __init__(self, database: str, *, solvers: int = 2, **settings: object) -> None:
        self.database, self.solvers, self.port = database, solvers, free_port()
        self._settings = {f"NESTING_{name.upper()}": str(value) for name, value in settings.items()}
        self.process: subprocess.Popen[bytes] | None = None
        self.workers: list[subprocess.Popen[bytes]] = []

    @property
    def url(self) -> str:
        """Where it is reached."""
        return f"http://127.0.0.1:{self.port}"

    def start(self) -> None:
        """Start the server and wait until it answers."""
        words = ("serve", "--port", str(self.port), "--solvers", str(self.solvers))
        self.process = self._run(*words)
        wait_until(lambda: answers(self.url + "/healthz"), STARTS_WITHIN, "the server does not answer")

    def start_worker(self, solvers: int = 1) -> subprocess.Popen[bytes]:
        """Start a worker as on another machine."""
        worker = self._run("worker", "--solvers", str(solvers))
        self.workers.append(worker)
        return worker

    def await_ready(self) -> None:
        """Wait until a worker has been heard of."""
        wait_until(lambda: answers(self.url + "/readyz"), STARTS_WITHIN, "no worker has been heard of")

    def kill(self) -> None:
        """End the server at once, as a power cut would; its own worker and solvers follow by themselves."""
        assert self.process is not None
        self.process.send_signal(signal.SIGKILL)
        self.process.wait()
        self.process = None

    def stop(self) -> None:
        """End everything that runs."""
        for process in (*self.workers, *([self.process] if self.process else [])):
            with suppress(ProcessLookupError):
                process.send_signal(signal.SIGCONT)
                process.terminate()
        for process in (*self.workers, *([self.process] if self.process else [])):
            try:
                process.wait(20)
            except subprocess.TimeoutExpired:
                process.kill()
                process.wait()
        self.process, self.workers = None, []

    def _run(self, *words: str) -> subprocess.Popen[bytes]:
        command = "from nesting.cli import main; main()"
        path = os.pathsep.join(filter(None, (str(ROOT), os.environ.get("PYTHONPATH", ""))))
        environment = {**os.environ, **self._settings, "PYTHONPATH": path, "NESTING_DATABASE": self.database}
        log = open(os.environ.get("NESTING_SERVER_LOG", os.devnull), "ab")  # noqa: SIM115 (the process keeps it)
        with log:
            return subprocess.Popen(
                [sys.executable, "-c", command, *words],
                env=environment,
                stdin=subprocess.DEVNULL,
                stdout=log,
                stderr=log,
            )


@contextmanager
def serving(database: str, *, solvers: int = 2, **settings: object) -> Iterator[Server]:
    """Give a service that runs and is ready, and end it afterwards."""
    server = Server(database, solvers=solvers, **settings)
    try:
        server.start()
        if solvers:
            server.await_ready()
        yield server
    finally:
        server.stop()


def free_port() -> int:
    """Give a port nobody listens on."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


def answers(url: str) -> bool:
    """Whether an address answers with success."""
    try:
        with urllib.request.urlopen(url, timeout=5) as answer:
            return bool(answer.status == 200)
    except (OSError, urllib.error.URLError):
        return False


def wait_until(done: object, seconds: float, otherwise: str) -> None:
    """
    Wait until something is true.

    Raises
    ------
    TimeoutError
        When it is not in so many seconds.
    """
    assert callable(done)
    until = time.monotonic() + seconds
    while not done():
        if time.monotonic() > until:
            raise TimeoutError(otherwise)
        time.sleep(0.05)
