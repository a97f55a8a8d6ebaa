"""Reading a draft: by a clerk process, again only when the list, the choices or the stock have changed."""

from __future__ import annotations

import threading
from collections import OrderedDict
from dataclasses import dataclass, replace

from api.catalogue.contents import Contents, contents, narrowed
from api.deps import Service
from api.pages.new.choices import Chosen, understood
from api.pages.new.drafts import Draft
from api.processes.clerk_work import ReadDraft
from nesting.domain.request import Request
from nesting.sheets.read_report import ReadOutcome

KEPT = 8


@dataclass(frozen=True, slots=True)
class Reading:
    """How a draft was read: what was lent, what was chosen, what came of it."""

    have: Contents
    chosen: Chosen
    outcome: ReadOutcome

    @property
    def request(self) -> Request | None:
        """Give what would be planned; None while anything must be settled first."""
        if self.outcome.request is None or self.chosen.faults:
            return None
        request = narrowed(self.outcome.request)
        return replace(request, title=self.chosen.title) if self.chosen.title else request


class Readings:
    """The latest readings, so that turning a page of a list does not read it again."""

    def __init__(self) -> None:
        self._kept: OrderedDict[str, tuple[int, Reading]] = OrderedDict()
        self._lock = threading.Lock()

    def of(self, service: Service, draft: Draft) -> Reading:
        """
        Read a draft, or give what came of it the last time.

        Raises
        ------
        Problem
            When it took too long, needed too much memory, or all clerks are busy.
        """
        chosen = understood(draft.choices, draft.typed)
        have = Contents()
        if not chosen.alone:
            with service.store.read() as session:
                have = contents(session)
        with self._lock:
            version, kept = self._kept.get(draft.id, (0, None))
            if kept is not None and version == draft.version and kept.have == have:
                self._kept.move_to_end(draft.id)
                return kept
        work = ReadDraft(name=draft.name, body=draft.body, have=have, options=chosen.options)
        outcome = service.clerks.ask(work)
        assert isinstance(outcome, ReadOutcome)
        reading = Reading(have, chosen, outcome)
        with self._lock:
            self._kept[draft.id] = (draft.version, reading)
            while len(self._kept) > KEPT:
                self._kept.popitem(last=False)
        return reading


readings = Readings()
