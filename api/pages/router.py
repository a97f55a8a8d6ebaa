"""Every page of the service; none of them is part of the documented interface."""

from __future__ import annotations

from fastapi import APIRouter

from api.pages.assets import router as assets
from api.pages.home import router as home
from api.pages.preferences import router as preferences
from api.pages.sign_in import router as sign_in

router = APIRouter(include_in_schema=False)
for part in (home, preferences, sign_in, assets):
    router.include_router(part)
