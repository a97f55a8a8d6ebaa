"""From a draft to a plan in the queue, once."""

from __future__ import annotations

from api.access.keys import Caller
from api.deps import Service
from api.pages.new.drafts import draft_row, read_draft
from api.pages.new.reading import readings
from api.plans.service import PlanOptions, submit
from api.web.problems import Problem


def start_draft(service: Service, draft_id: str, caller: Caller) -> str:
    """
    Queue a plan of a draft; give the plan's id.

    A draft that has been started and not changed since gives the same plan again, so pressing the
    button twice orders nothing twice.

    Raises
    ------
    Problem
        When there is no such draft, anything must be settled first, or it was changed meanwhile.
    """
    store = service.store
    with store.read() as session:
        draft = read_draft(session, draft_id)
    reading = readings.of(service, draft)
    request = reading.request
    with store.write() as session:
        row = draft_row(session, draft_id, lock=True)
        if row.plan_id and row.planned_version == row.version:
            return row.plan_id
        if row.version != draft.version:
            raise Problem(422, "draft-changed", "Somebody has changed the list meanwhile; look once more.")
        if request is None:
            raise Problem(422, "to-settle", "Nothing was planned: some things must be settled first.")
        options = PlanOptions(seconds=reading.chosen.seconds or service.settings.plan_seconds)
        plan = submit(session, request, options, caller, store.now(session), service.settings)
        row.plan_id, row.planned_version = plan.id, row.version
        plan_id = plan.id
    service.poke()
    return plan_id
