"""The worker as a process: on its own (``nesting worker``) or beside a server that started it."""

from __future__ import annotations

import logging
import os
import signal
import sys
import threading
from multiprocessing import Pipe
from types import FrameType

from api.settings import Settings
from api.store.engine import Store
from api.store.migrate import upgrade
from api.worker.loop import Worker
from api.worker.queue import Terms


def terms_of(settings: Settings) -> Terms:
    """Give the queue's terms as they are set."""
    return Terms(
        lease_seconds=settings.lease_seconds,
        max_attempts=settings.max_attempts,
        max_crashes=settings.max_crashes,
    )


def run_worker(settings: Settings, *, beside_server: bool = False) -> None:
    """
    Work until SIGTERM or SIGINT.

    Parameters
    ----------
    beside_server
        Standard input then brings a line for each new plan and ends with the server; standard output
        takes the id of every finished plan.
    """
    store = Store(settings.url, connections=2)
    upgrade(store)
    woken, waker = Pipe(duplex=False)
    on_finished = _say if beside_server else lambda _: None
    worker = Worker(
        store, solvers=max(settings.solvers, 1), terms=terms_of(settings), on_finished=on_finished
    )

    def end(signum: int, frame: FrameType | None) -> None:
        worker.stop()
        waker.send_bytes(b".")

    signal.signal(signal.SIGTERM, end)
    signal.signal(signal.SIGINT, signal.SIG_IGN if beside_server else end)
    if beside_server:

        def listen() -> None:
            while os.read(0, 1024):
                worker.poke()
                waker.send_bytes(b".")
            os._exit(0)  # the server is gone; our solvers follow us, and the leases run out

        threading.Thread(target=listen, daemon=True).start()

    try:
        worker.run(woken)
    finally:
        store.close()


def _say(plan_id: str) -> None:
    sys.stdout.write(plan_id + "\n")
    sys.stdout.flush()


def main() -> None:
    """Be the worker beside a server."""
    logging.basicConfig(level=logging.INFO, format="%(asctime)s worker %(levelname)s %(message)s")
    run_worker(Settings(), beside_server=True)
