"""A visit to a page: who comes, how they want it shown, and the page they are given."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from fastapi import Depends, Request
from fastapi.responses import HTMLResponse

from api.access.keys import Caller, Scope
from api.deps import KEY_COOKIE, Running, Service, get_caller
from api.pages.environment import render
from api.pages.preferences import Preferences, preferences_of
from nesting.reports.lengths import BothUnits


@dataclass(frozen=True, slots=True)
class Visit:
    """
    What an endpoint knows of a request for a page.

    Parameters
    ----------
    lengths
        Printer of lengths in the reader's unit, millimetres where none was chosen.
    """

    request: Request
    service: Service
    caller: Caller
    preferences: Preferences

    @property
    def lengths(self) -> BothUnits:
        """Give the printer of lengths."""
        return self.preferences.lengths

    def may(self, scope: Scope) -> bool:
        """Whether whoever visits may do what a scope stands for."""
        return self.caller.may(scope)

    def page(self, template: str, status: int = 200, **context: object) -> HTMLResponse:
        """
        Give a page.

        Parameters
        ----------
        template
            Its name in ``templates``.
        context
            What the template shows. ``lengths`` among it takes the place of the reader's own.
        """
        return page_for(self.request, self.preferences, self.caller, template, status, **context)


def page_for(
    request: Request,
    preferences: Preferences,
    caller: Caller | None,
    template: str,
    status: int = 200,
    **context: object,
) -> HTMLResponse:
    """
    Give a page to somebody who may not be known yet.

    Parameters
    ----------
    caller
        None on the pages that come before a key is known.
    """
    path = request.url.path
    known: dict[str, object] = {
        "preferences": preferences,
        "lengths": preferences.lengths,
        "path": path,
        "back": f"{path}?{request.url.query}" if request.url.query else path,
        "caller": caller,
        "signed_in": KEY_COOKIE in request.cookies,
        "may": {scope.value: caller is not None and caller.may(scope) for scope in Scope},
    }
    return HTMLResponse(render(template, known | context), status, headers={"Cache-Control": "no-store"})


async def get_visit(
    request: Request, service: Running, caller: Annotated[Caller, Depends(get_caller)]
) -> Visit:
    """Give the visit an endpoint is asked for."""
    return Visit(request, service, caller, preferences_of(request))


Visited = Annotated[Visit, Depends(get_visit)]
