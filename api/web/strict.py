"""A misspelt filter must not look like an answer: query parameters nobody knows are refused."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from typing import get_origin

from fastapi import Request
from fastapi._compat import ModelField
from fastapi.dependencies.models import Dependant
from fastapi.routing import APIRoute

from api.web.problems import Problem

Known = dict[str, bool]
_known: dict[Callable[..., object], Known] = {}


async def known_parameters_only(request: Request) -> None:
    """
    Refuse parameters that the addressed endpoint does not have, or takes once and was given twice.

    Raises
    ------
    Problem
        When there is such a one.
    """
    route = request.scope.get("route")
    if not isinstance(route, APIRoute) or not request.query_params:
        return
    if route.endpoint not in _known:
        _known[route.endpoint] = _parameters(route)
    known = _known[route.endpoint]
    for name, times in Counter(key for key, _ in request.query_params.multi_items()).items():
        if name not in known:
            listed = ", ".join(sorted(known)) or "none"
            detail = f"There is no query parameter {name[:80]!r} here; there are: {listed}."
            raise Problem(422, "unknown-parameter", detail)
        if times > 1 and not known[name]:
            raise Problem(422, "parameter-twice", f"The query parameter {name!r} is given {times} times.")


def _parameters(route: APIRoute) -> Known:
    """Give the names of an endpoint's query parameters, and whether each may be given more than once."""
    return {field.alias: _many(field.field_info.annotation) for field in _fields(route.dependant)}


def _fields(dependant: Dependant) -> Iterator[ModelField]:
    yield from dependant.query_params
    for inner in dependant.dependencies:
        yield from _fields(inner)


def _many(annotation: object) -> bool:
    options = getattr(annotation, "__args__", ())
    return get_origin(annotation) is list or any(get_origin(option) is list for option in options)
