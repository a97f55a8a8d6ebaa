"""Waiting for a plan, and telling how it comes on."""

from __future__ import annotations

import asyncio
import time
from collections.abc import AsyncIterator

from fastapi.concurrency import run_in_threadpool
from sqlalchemy import select

from api.deps import Service
from api.plans.schemas import PlanRead
from api.plans.service import get_plan
from api.plans.states import PlanState
from api.store.models import PlanRow
from nesting.units import Unit

EVENT_STREAM = "text/event-stream"
LOOK_SECONDS = 0.5
KEEP_ALIVE_SECONDS = 15.0


async def wait_for_end(service: Service, plan_id: str, seconds: float) -> float:
    """Wait until a plan is no longer to do, or so many seconds; give the seconds waited."""
    started = time.monotonic()
    until = started + min(seconds, service.settings.max_wait)
    if seconds <= 0 or not service.waiting.acquire():
        return 0.0
    try:
        while time.monotonic() < until:
            notice = asyncio.ensure_future(
                service.notices.wait(plan_id, min(LOOK_SECONDS, until - time.monotonic()))
            )
            await asyncio.sleep(0)  # the notice listens before we look, so none is missed
            if not await run_in_threadpool(_to_do, service, plan_id):
                notice.cancel()
                break
            await notice
    finally:
        service.waiting.release()
    return time.monotonic() - started


def shown(service: Service, plan_id: str, unit: Unit) -> PlanRead:
    """
    Give a plan as it stands now, as it is answered.

    Raises
    ------
    Problem
        When there is no such plan.
    """
    with service.store.read() as session:
        return PlanRead.of(session, get_plan(session, plan_id), unit)


async def follow(service: Service, plan_id: str, unit: Unit) -> AsyncIterator[str]:
    """Give an event whenever a plan has changed, until its search has ended."""
    if not service.waiting.acquire():
        yield "retry: 5000\n\n"  # too many are listening; the browser comes back by itself
        return
    last, quiet = "", time.monotonic()
    try:
        while True:
            now = await run_in_threadpool(shown, service, plan_id, unit)
            text = now.model_dump_json()
            if text != last:
                last, quiet = text, time.monotonic()
                yield f"event: plan\ndata: {text}\n\n"
            elif time.monotonic() - quiet > KEEP_ALIVE_SECONDS:
                quiet = time.monotonic()
                yield ": still here\n\n"
            if not now.state.to_do:
                return
            await service.notices.wait(plan_id, LOOK_SECONDS)
    finally:
        service.waiting.release()


def _to_do(service: Service, plan_id: str) -> bool:
    with service.store.read() as session:
        state = session.execute(select(PlanRow.state).where(PlanRow.id == plan_id)).scalar_one()
    return PlanState(state).to_do
