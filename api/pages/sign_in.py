"""Signing in: a key is typed once and kept in a cookie that no script can read."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Form, Query, Request, Response
from fastapi.responses import RedirectResponse

from api.access.keys import caller_of
from api.deps import KEY_COOKIE, Running
from api.pages.preferences import local_path, preferences_of
from api.pages.visit import page_for

_DAYS_30 = 30 * 24 * 3600

router = APIRouter()
Back = Annotated[str, Query(alias="next", max_length=2000)]


@router.get("/sign-in")
def ask_for_key(request: Request, service: Running, back: Back = "/") -> Response:
    """Ask for a key; where none is needed there is nothing to ask."""
    if not service.settings.keys_required:
        return RedirectResponse(local_path(back), 303)
    return page_for(request, preferences_of(request), None, "sign_in.html", next=local_path(back), fault="")


@router.post("/sign-in")
def take_key(
    request: Request,
    service: Running,
    key: Annotated[str, Form(max_length=200)] = "",
    back: Annotated[str, Form(alias="next", max_length=2000)] = "/",
) -> Response:
    """Keep a key that opens something; say so beside the field when it does not."""
    wanted = local_path(back)
    with service.store.read() as session:
        caller = caller_of(session, key.strip())
    if caller is None:
        fault = "This key opens nothing here. Keys begin with nest_ and are shown once, when they are made."
        preferences = preferences_of(request)
        return page_for(request, preferences, None, "sign_in.html", 422, next=wanted, fault=fault)
    answer = RedirectResponse(wanted, 303)
    answer.set_cookie(
        KEY_COOKIE,
        key.strip(),
        max_age=_DAYS_30,
        httponly=True,
        samesite="strict",
        secure=request.url.scheme == "https",
    )
    return answer


@router.post("/sign-out")
def forget_key(request: Request) -> Response:
    """Forget the key on this device."""
    answer = RedirectResponse("/sign-in", 303)
    answer.delete_cookie(KEY_COOKIE, httponly=True, samesite="strict")
    return answer
