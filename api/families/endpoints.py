"""``/v1/families``: how each channel family is put together, as in a request document."""

from __future__ import annotations

from dataclasses import replace
from typing import Annotated, Any

from fastapi import APIRouter, Body, Path, Query, Request, Response
from sqlalchemy import select
from sqlalchemy.orm import Session

from api.catalogue.contents import families_of, family_document
from api.deps import Admin, Reader, Running
from api.store.models import FamilyRow
from api.web.pages import PageSize, one_page
from api.web.preconditions import IfMatch, etag, require_match
from api.web.problems import Problem, not_found
from nesting.domain.material import Family
from nesting.errors import InputRefused, Where

router = APIRouter(prefix="/v1/families", tags=["families"])

FamilyName = Annotated[
    str, Path(max_length=200, pattern=r"^[^\x00-\x1f]+$", description="Name of the family.")
]
FAMILY_SCHEMA: dict[str, Any] = {"$ref": "#/components/schemas/PlanRequest.FamilyPart"}
_SENT = {"requestBody": {"required": True, "content": {"application/json": {"schema": FAMILY_SCHEMA}}}}
Replies = dict[int | str, dict[str, Any]]
_ONE: Replies = {200: {"content": {"application/json": {"schema": FAMILY_SCHEMA}}}}
_MANY: Replies = {
    200: {"content": {"application/json": {"schema": {"type": "array", "items": FAMILY_SCHEMA}}}}
}


@router.get("", responses=_MANY)
def list_families(
    request: Request,
    response: Response,
    service: Running,
    caller: Reader,
    after: Annotated[str | None, Query(max_length=200, description="Cursor from the Link.")] = None,
    limit: PageSize = 100,
) -> list[dict[str, Any]]:
    """List the families in the order of their names; lengths in nanometres."""
    query = select(FamilyRow).order_by(FamilyRow.name).limit(limit + 1)
    if after is not None:
        query = query.where(FamilyRow.name > after)
    with service.store.read() as session:
        rows = session.scalars(query).all()
    last = rows[limit - 1].name if len(rows) > limit else None
    return [row.document for row in one_page(rows, limit, last, request, response)]


@router.get("/{name}", responses=_ONE)
def read_family(name: FamilyName, response: Response, service: Running, caller: Reader) -> dict[str, Any]:
    """Show a family."""
    with service.store.read() as session:
        row = session.get(FamilyRow, name)
    if row is None:
        raise not_found("family of that name")
    response.headers["ETag"] = etag(row.version)
    return row.document


@router.put("/{name}", responses=_ONE, openapi_extra=_SENT)
def keep_family(
    name: FamilyName,
    response: Response,
    service: Running,
    caller: Admin,
    document: Annotated[dict[str, Any], Body()],
    if_match: IfMatch = None,
) -> dict[str, Any]:
    """Describe a family, anew or for the first time; plans made before keep what they were made with."""
    family = _understood(name, document)
    with service.store.write() as session:
        row = session.get(FamilyRow, name, with_for_update=True)
        require_match(if_match, row.version if row else 0, needed=row is not None)
        row = store_family(session, family, service.store.now(session))
    response.headers["ETag"] = etag(row.version)
    return row.document


@router.delete("/{name}", status_code=204)
def forget_family(name: FamilyName, service: Running, caller: Admin, if_match: IfMatch = None) -> Response:
    """Take a family out of the catalogue."""
    with service.store.write() as session:
        row = session.get(FamilyRow, name, with_for_update=True)
        if row is None:
            raise not_found("family of that name")
        require_match(if_match, row.version)
        session.delete(row)
    return Response(status_code=204)


def store_family(session: Session, family: Family, now: int) -> FamilyRow:
    """Keep a family in place of the one of its name, if there is one."""
    row = session.get(FamilyRow, family.name, with_for_update=True)
    document = family_document(family)
    if row is None:
        row = FamilyRow(name=family.name, document=document, version=1, changed_at=now)
        session.add(row)
    elif row.document != document:
        row.document, row.changed_at = document, now
        row.version += 1
    session.flush()
    return row


def _understood(name: str, document: dict[str, Any]) -> Family:
    said = document.setdefault("name", name)
    if said != name:
        raise Problem(422, "another-name", "The document names another family than the address.")
    try:
        return families_of([document])[0]
    except InputRefused as refused:
        # Pointers into what was sent, not into the request that was made of it.
        raise InputRefused(
            tuple(
                replace(f, where=Where(f.where.source, f.where.at.removeprefix("/families/0")))
                for f in refused.findings
            )
        ) from refused
