"""How a reader wants pages: in which unit, light or dark. Kept in the browser, not by the service."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Annotated

from fastapi import APIRouter, Form, Request
from fastapi.responses import RedirectResponse

from nesting.reports.lengths import BothUnits
from nesting.units import Unit

_YEAR = 365 * 24 * 3600
UNITS = (Unit.MM, Unit.INCH)

router = APIRouter()


class Theme(StrEnum):
    """Colours of the pages: as the device says, or one way always."""

    DEVICE = "device"
    LIGHT = "light"
    DARK = "dark"


@dataclass(frozen=True, slots=True)
class Preferences:
    """
    What a reader has chosen.

    Parameters
    ----------
    unit
        None as long as nothing was chosen: then a plan speaks in its own unit, all else in millimetres.
    """

    unit: Unit | None = None
    theme: Theme = Theme.DEVICE

    @property
    def lengths(self) -> BothUnits:
        """Give the printer of lengths."""
        return BothUnits(self.unit or Unit.MM)


def preferences_of(request: Request) -> Preferences:
    """Give what the reader has chosen; a cookie that says nothing known counts as none."""
    unit, theme = request.cookies.get("unit", ""), request.cookies.get("theme", "")
    return Preferences(
        next((known for known in UNITS if known.value == unit), None),
        next((known for known in Theme if known.value == theme), Theme.DEVICE),
    )


def local_path(text: str) -> str:
    """Give a path of this service to go back to; anything that could lead elsewhere becomes the home page."""
    fine = text.startswith("/") and not text.startswith(("//", "/\\")) and text.isprintable()
    return text if fine else "/"


@router.post("/preferences")
def choose(
    request: Request,
    unit: Annotated[str, Form()] = "",
    theme: Annotated[str, Form()] = "",
    back: Annotated[str, Form(max_length=2000)] = "/",
) -> RedirectResponse:
    """Remember a choice and show the same page again."""
    answer = RedirectResponse(local_path(back), 303)
    secure = request.url.scheme == "https"
    if unit in {known.value for known in UNITS}:
        answer.set_cookie("unit", unit, max_age=_YEAR, samesite="lax", secure=secure, httponly=True)
    if theme in set(Theme):
        answer.set_cookie("theme", theme, max_age=_YEAR, samesite="lax", secure=secure, httponly=True)
    return answer
