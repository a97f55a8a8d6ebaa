"""Every page of the service; none of them is part of the documented interface."""

from __future__ import annotations

from fastapi import APIRouter

from api.pages.assets import router as assets
from api.pages.home import router as home
from api.pages.jobs.endpoints import router as jobs
from api.pages.new.demo import router as demo
from api.pages.new.endpoints import router as new
from api.pages.new.stop import router as stop
from api.pages.plan.acts import router as plan_acts
from api.pages.plan.endpoints import router as plan
from api.pages.preferences import router as preferences
from api.pages.rack.bar_endpoints import router as bars
from api.pages.rack.endpoints import router as rack
from api.pages.saw.endpoints import router as saw
from api.pages.sign_in import router as sign_in

router = APIRouter(include_in_schema=False)
for part in (home, preferences, sign_in, assets, new, demo, stop, plan, plan_acts, saw, bars, rack, jobs):
    router.include_router(part)
