"""Comparisons of a plan's purchase, made one after the other beside the server and kept with the plan."""

from __future__ import annotations

import logging
import threading
from concurrent.futures import ThreadPoolExecutor
from enum import StrEnum

from sqlalchemy import delete
from sqlalchemy.orm import Session

from api.plans.service import get_plan
from api.processes.advisor import Compare, Compared, Growth, read_comparison, read_growth
from api.processes.child import Child, ChildDied, TookTooLong
from api.store.documents import DocumentKind, get_document, put_document
from api.store.engine import Store
from api.store.models import DocumentRow
from api.web.problems import Problem
from nesting.advice.comparison import Comparison

log = logging.getLogger(__name__)

NICE = 15
# A search sees between two of its steps that its time is up.
GRACE_SECONDS = 60.0


class Progress(StrEnum):
    """How far a comparison is that has been asked for."""

    WAITING = "waiting"
    RUNNING = "running"


class Comparisons:
    """
    Compares, for one plan at a time, in a process of its own that stands back for everything else.

    What is not finished when the server ends is lost and can be asked for again.
    """

    def __init__(self, store: Store) -> None:
        self._store = store
        self._queue = ThreadPoolExecutor(1, thread_name_prefix="comparing")
        self._lock = threading.Lock()
        self._asked: dict[str, Progress] = {}
        self._faults: dict[str, str] = {}
        self._child: Child | None = None
        self._closed = False

    def ask(self, plan_id: str, seconds: float) -> None:
        """
        Have the purchase of a plan compared, unless that is under way; returns at once.

        Raises
        ------
        Problem
            When there is no such plan, or it has no result yet.
        """
        with self._store.read() as session:
            row = get_plan(session, plan_id)
            request = get_document(session, plan_id, DocumentKind.REQUEST)
            result = get_document(session, plan_id, DocumentKind.RESULT)
        assert request is not None, plan_id
        if result is None:
            raise Problem(409, "no-result", f"The plan is {row.state}; there is nothing to compare yet.")
        with self._lock:
            if plan_id in self._asked or self._closed:
                return
            self._asked[plan_id] = Progress.WAITING
            self._faults.pop(plan_id, None)
        self._queue.submit(self._compare, plan_id, Compare(request, result, row.seed, seconds))

    def progress(self, plan_id: str) -> Progress | None:
        """Give how far the comparison of a plan is; None when none is under way."""
        with self._lock:
            return self._asked.get(plan_id)

    def fault(self, plan_id: str) -> str:
        """Say why the last comparison of a plan came to nothing; empty when it did not."""
        with self._lock:
            return self._faults.get(plan_id, "")

    def close(self) -> None:
        """End what is under way."""
        with self._lock:
            self._closed = True
            child = self._child
        if child is not None:
            child.end()
        self._queue.shutdown(cancel_futures=True)
        self._asked.clear()

    def _compare(self, plan_id: str, work: Compare) -> None:
        fault = ""
        try:
            answer = self._ask_child(plan_id, work)
            if isinstance(answer, Compared):
                with self._store.write() as session:
                    _keep(session, plan_id, DocumentKind.COMPARED, answer.document)
                    _keep(session, plan_id, DocumentKind.GROWTH, answer.growth)
            else:
                fault = str(getattr(answer, "reason", ""))
        except TookTooLong:
            fault = "The comparison did not end in its time."
        except ChildDied:
            fault = "The comparison broke off."
        except Exception:
            log.exception("a comparison of plan %s failed", plan_id)
            fault = "The comparison failed on our side; the operator finds it in the log."
        with self._lock:
            self._asked.pop(plan_id, None)
            if fault:
                self._faults[plan_id] = fault

    def _ask_child(self, plan_id: str, work: Compare) -> object:
        with self._lock:
            if self._closed:
                raise ChildDied
            self._child = child = Child("api.processes.advisor", nice=NICE)
            self._asked[plan_id] = Progress.RUNNING
        try:
            return child.ask(work, work.seconds + GRACE_SECONDS)
        finally:
            with self._lock:
                self._child = None
            child.end()


def comparison_of(store: Store, plan_id: str) -> Comparison | None:
    """Give the comparison that is kept with a plan; None when there is none."""
    with store.read() as session:
        document = get_document(session, plan_id, DocumentKind.COMPARED)
    return read_comparison(document) if document else None


def growth_of(store: Store, plan_id: str) -> tuple[Growth, ...]:
    """Give how much the runs of a plan may grow, as far as that has been looked for."""
    with store.read() as session:
        document = get_document(session, plan_id, DocumentKind.GROWTH)
    return read_growth(document) if document else ()


def _keep(session: Session, plan_id: str, kind: DocumentKind, document: str) -> None:
    old = delete(DocumentRow).where(DocumentRow.plan_id == plan_id, DocumentRow.kind == kind.value)
    session.execute(old)
    put_document(session, plan_id, kind, document)
