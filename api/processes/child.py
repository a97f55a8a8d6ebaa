"""A process of our own that does one kind of work and dies with whoever started it."""

from __future__ import annotations

import contextlib
import os
import socket
import subprocess
import sys
import time
from collections.abc import Callable
from multiprocessing.connection import Connection
from pathlib import Path
from typing import Any

PATIENCE = 4
_LOOK_SECONDS = 0.25
_ROOT = Path(__file__).parents[2]


class ChildDied(Exception):
    """The process ended while it was at work."""


class TookTooLong(Exception):
    """The work was not done in its time; the process has been ended."""


class Child:
    """
    One working process, spoken to over a socket.

    Parameters
    ----------
    module
        Module whose ``main`` is to run; it calls ``serve`` with what it can do.
    nice
        How far it stands back for other processes.
    megabytes
        Largest address space; 0 for no limit.
    """

    def __init__(self, module: str, *, nice: int = 0, megabytes: int = 0) -> None:
        ours, theirs = socket.socketpair()
        # Not ``-m``: what is sent to and fro must be the same classes on both sides.
        command = f"from {module} import main; main()"
        # One thread of linear algebra: the work is spread over processes, not inside them.
        threads = {"OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1"}
        self._process = subprocess.Popen(
            [sys.executable, "-c", command, str(theirs.fileno()), str(nice), str(megabytes)],
            pass_fds=[theirs.fileno()],
            stdin=subprocess.DEVNULL,
            env={**os.environ, **threads, "PYTHONPATH": python_path()},
        )
        theirs.close()
        self.connection = Connection(ours.detach())

    @property
    def pid(self) -> int:
        """Number of the process."""
        return self._process.pid

    @property
    def alive(self) -> bool:
        """Whether the process still runs."""
        return self._process.poll() is None

    def send(self, message: Any) -> None:
        """
        Send a message.

        Raises
        ------
        ChildDied
            When nobody is there to hear it.
        """
        try:
            self.connection.send(message)
        except OSError as why:
            raise ChildDied(str(why)) from why

    def receive(self) -> Any:
        """
        Wait for the next message.

        Raises
        ------
        ChildDied
            When none can come any more.
        """
        try:
            return self.connection.recv()
        except (EOFError, OSError) as why:
            raise ChildDied(str(why)) from why

    def ask(self, message: Any, seconds: float) -> Any:
        """
        Send one piece of work and wait for what comes of it.

        Parameters
        ----------
        message
            The work.
        seconds
            Longest time of the processor; by the clock it may take ``PATIENCE`` times as long, so
            that a busy machine refuses nobody's file.

        Raises
        ------
        ChildDied
            When the process ends before.
        TookTooLong
            When the time is over; the process is ended.
        """
        used = self.processor_seconds()
        self.send(message)
        until = time.monotonic() + PATIENCE * seconds
        while not self.connection.poll(min(max(until - time.monotonic(), 0), _LOOK_SECONDS)):
            if time.monotonic() >= until or self.processor_seconds() - used > seconds:
                self.end()
                raise TookTooLong
        return self.receive()

    def processor_seconds(self) -> float:
        """Give the time of the processor it has used; 0 where the system does not tell."""
        try:
            after_name = Path(f"/proc/{self.pid}/stat").read_text().rpartition(")")[2].split()
        except OSError:
            return 0.0  # no such record on this system: the clock alone decides
        user, system = after_name[11:13]  # fields 14 and 15 of proc(5)
        return (int(user) + int(system)) / os.sysconf("SC_CLK_TCK")

    def end(self) -> None:
        """End the process at once."""
        self._process.kill()
        with contextlib.suppress(subprocess.TimeoutExpired):
            self._process.wait(10)
        self.connection.close()


def python_path() -> str:
    """Give a search path on which this package is found, installed or not."""
    return os.pathsep.join(filter(None, (str(_ROOT), os.environ.get("PYTHONPATH", ""))))


def serve(
    work: Callable[[Any, Callable[[Any], None]], Any],
    on_word: Callable[[Any], bool],
    *,
    greeting: Any = None,
) -> None:
    """
    Run the working process: take messages in order until the other side is gone.

    Parameters
    ----------
    work
        Takes a message and a way to send news, gives the answer.
    on_word
        Is shown every message as it arrives, even during work; True when it is no work (a cancel).
    greeting
        Sent first, unless None.
    """
    import queue
    import resource
    import signal
    import threading

    descriptor, nice, megabytes = (int(word) for word in sys.argv[1:4])
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C is for the server, which ends its children
    os.nice(nice)
    if megabytes:
        resource.setrlimit(resource.RLIMIT_AS, (megabytes << 20, megabytes << 20))
    connection = Connection(descriptor)
    waiting: queue.SimpleQueue[Any] = queue.SimpleQueue()

    def listen() -> None:
        while True:
            try:
                message = connection.recv()
            except (EOFError, OSError):
                os._exit(0)  # whoever started us is gone, and nobody waits for the answer
            if not on_word(message):
                waiting.put(message)

    threading.Thread(target=listen, daemon=True).start()
    try:
        if greeting is not None:
            connection.send(greeting)
        while True:
            connection.send(work(waiting.get(), connection.send))
    except OSError:
        os._exit(0)
