"""The application: built by ``create_app``, alive between the two ends of its lifespan."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from typing import Any

from fastapi import Depends, FastAPI
from fastapi.openapi.utils import get_openapi

from api.catalogue.endpoints import router as catalogue
from api.deps import Service, Waiting
from api.events.endpoints import router as events
from api.families.endpoints import router as families
from api.health.endpoints import router as health
from api.jobs.endpoints import router as jobs
from api.offcuts.endpoints import router as offcuts
from api.pages.errors import ErrorPages
from api.pages.router import router as pages
from api.plans.comparing import Comparisons
from api.plans.endpoints import router as plans
from api.plans.life_endpoints import router as life
from api.processes.clerk import Clerks
from api.settings import Settings
from api.stock.endpoints import router as stock
from api.store.engine import Store
from api.store.migrate import upgrade
from api.web import problems
from api.web.metrics import Measured, Metrics
from api.web.shields import BodyLimit, KnownHosts, LastNet, RateLimit, SecurityHeaders, wrap
from api.web.strict import known_parameters_only
from api.worker.beside import Beside, Notices
from nesting.exchange import plan_schema, request_schema

LOOPBACK_NAMES = ("localhost", "127.0.0.1", "[::1]")

_REFUSALS: dict[int | str, dict[str, Any]] = {
    status: {
        "description": words,
        "content": {problems.MEDIA_TYPE: {"schema": {"$ref": "#/components/schemas/ProblemRead"}}},
    }
    for status, words in {
        400: "The request is not understood.",
        401: "A key is needed.",
        403: "The key lacks a scope, or the request comes from a page of another site.",
        404: "There is no such thing.",
        406: "None of the offered media types is acceptable.",
        409: "It cannot be done as things stand; conflicts name who has what.",
        412: "It has been changed meanwhile.",
        413: "Too large.",
        415: "Not a media type that is read here.",
        422: "What was sent is refused; findings say where and why.",
        428: "If-Match is needed.",
        429: "Too many requests.",
        503: "Busy; try again.",
    }.items()
}


def create_app(settings: Settings | None = None) -> FastAPI:
    """
    Give the application.

    Parameters
    ----------
    settings
        None reads them from the environment.
    """
    chosen = settings or Settings()
    metrics = Metrics()

    @asynccontextmanager
    async def lifespan(app: FastAPI) -> AsyncIterator[None]:
        store = Store(chosen.url)
        upgrade(store)
        notices = Notices()
        notices.attach(asyncio.get_running_loop())
        clerks = Clerks(chosen.clerks, seconds=chosen.clerk_seconds, megabytes=chosen.clerk_megabytes)
        beside = Beside(chosen, notices) if chosen.solvers else None
        if beside:
            beside.start()
        comparisons = Comparisons(store)
        app.state.service = Service(
            settings=chosen,
            store=store,
            clerks=clerks,
            notices=notices,
            metrics=metrics,
            waiting=Waiting(chosen.max_streams),
            beside=beside,
            comparisons=comparisons,
        )
        try:
            yield
        finally:
            if beside:
                await asyncio.to_thread(beside.stop)
            comparisons.close()
            clerks.close()
            store.close()

    app = FastAPI(
        title="Channel nesting",
        version="1",
        summary="Plans, stock and offcuts of made-to-measure channel fixtures.",
        openapi_url="/v1/openapi.json",
        docs_url=None,  # the usual page loads its scripts from strangers
        redoc_url=None,
        lifespan=lifespan,
        responses=_REFUSALS,
        dependencies=[Depends(known_parameters_only)],
        separate_input_output_schemas=False,
    )
    problems.install(app)
    for router in (plans, life, stock, offcuts, families, jobs, events, catalogue, health, pages):
        app.include_router(router)
    hosts = (*LOOPBACK_NAMES, *chosen.hosts) if chosen.loopback or chosen.hosts else ()
    wrap(
        app,
        (Measured, {"metrics": metrics}),
        (SecurityHeaders, {}),
        (ErrorPages, {}),
        (LastNet, {}),
        (KnownHosts, {"hosts": hosts}),
        (RateLimit, {"rate": chosen.rate, "burst": chosen.burst}),
        (BodyLimit, {"json_bytes": chosen.max_json, "upload_bytes": chosen.max_upload}),
    )
    app.openapi = _described(app)  # type: ignore[method-assign]  # the documented way to extend it
    return app


def _described(app: FastAPI) -> Callable[[], dict[str, Any]]:
    """Give the OpenAPI document with the exchange documents' schemas in it."""

    def describe() -> dict[str, Any]:
        if not app.openapi_schema:
            made = get_openapi(
                title=app.title,
                version=app.version,
                summary=app.summary,
                openapi_version=app.openapi_version,
                routes=app.routes,
            )
            schemas = made.setdefault("components", {}).setdefault("schemas", {})
            schemas["ProblemRead"] = _inlined(
                problems.ProblemRead.model_json_schema(), "ProblemRead", schemas
            )
            schemas["PlanRequest"] = _inlined(request_schema(), "PlanRequest", schemas)
            schemas["PlanDocument"] = _inlined(plan_schema(), "PlanDocument", schemas)
            app.openapi_schema = made
        return app.openapi_schema

    return describe


def _inlined(schema: dict[str, Any], name: str, schemas: dict[str, Any]) -> dict[str, Any]:
    """Move a schema's own definitions among the document's, under names that cannot clash."""

    def moved(value: Any) -> Any:
        if isinstance(value, dict):
            return {
                key: f"#/components/schemas/{name}.{inner.rpartition('/')[2]}"
                if key == "$ref" and isinstance(inner, str) and inner.startswith("#/$defs/")
                else moved(inner)
                for key, inner in value.items()
            }
        return [moved(inner) for inner in value] if isinstance(value, list) else value

    own = {key: value for key, value in schema.items() if key not in ("$defs", "$schema", "$id")}
    for inner, definition in schema.get("$defs", {}).items():
        schemas[f"{name}.{inner}"] = moved(definition)
    result = moved(own)
    assert isinstance(result, dict)
    return result
