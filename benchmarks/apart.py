"""Run one measurement in a fresh process, so that nothing is warm and nothing can hang the rest."""

from __future__ import annotations

import os
import threading
from collections.abc import Callable
from dataclasses import dataclass
from multiprocessing import get_context, parent_process
from multiprocessing.connection import Connection
from typing import Any, Generic, TypeVar

from benchmarks.machine import peak_memory

T = TypeVar("T")

# Seconds for an answered process to end its own workers; killed at once, those that still start complain.
GRACE = 3.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome(Generic[T]):
    """
    What came back from the fresh process.

    Parameters
    ----------
    value
        The function's answer; None when there is none.
    failure
        Why there is none, in plain words; empty when all went well.
    peak_mib
        Most memory the process held, MiB; 0 when it died.
    """

    value: T | None
    failure: str = ""
    peak_mib: int = 0


def run_apart(function: Callable[..., T], /, *, patience: float, **arguments: Any) -> Outcome[T]:
    """
    Call a module-level function in a process of its own.

    Parameters
    ----------
    patience
        Seconds after which the process is ended, its start included; engines may overrun their own limit.
    """
    context = get_context("spawn")
    here, there = context.Pipe(duplex=False)
    process = context.Process(target=_answer, args=(there, function, arguments))
    process.start()
    there.close()
    try:
        if not here.poll(patience):
            return Outcome(value=None, failure=f"no answer within {patience:.0f} s")
        outcome: Outcome[T] = here.recv()
        return outcome
    except EOFError:
        process.join()
        return Outcome(value=None, failure=f"the process died with exit code {process.exitcode}")
    finally:
        process.join(GRACE)
        process.kill()
        process.join()
        here.close()


def _answer(pipe: Connection, function: Callable[..., T], arguments: dict[str, Any]) -> None:
    threading.Thread(target=_end_with_parent, daemon=True).start()
    try:
        pipe.send(Outcome(value=function(**arguments), peak_mib=peak_memory()))
    except Exception as why:
        # Whatever a peer or the engine raises is a result of the benchmark, not its end.
        pipe.send(Outcome(value=None, failure=f"{type(why).__name__}: {why}"))
    finally:
        pipe.close()


def _end_with_parent() -> None:
    """Leave no engine running for hours behind a benchmark that was ended."""
    parent = parent_process()
    if parent is not None:
        parent.join()
        os._exit(1)
