"""From the body of a request to a planning request: JSON, a workbook, a CSV file, or a form with files."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import PurePath
from urllib.parse import unquote

from fastapi import Request as HttpRequest
from fastapi.concurrency import run_in_threadpool
from starlette.datastructures import UploadFile

from api.catalogue.contents import Contents, contents, lend, narrowed
from api.deps import Service
from api.plans.render import CSV, JSON, XLSX
from api.processes.clerk_work import ReadList
from api.web.problems import Problem
from nesting.domain.request import Request
from nesting.exchange import read_request
from nesting.units import Unit

FORM = "multipart/form-data"
ACCEPTED = (JSON, XLSX, CSV, FORM)
_SUFFIXES = {XLSX: ".xlsx", CSV: ".csv"}
_KINDS = {".csv": CSV, ".json": JSON}


@dataclass(frozen=True, slots=True)
class Body:
    """What was sent: its kind, its bytes, a name, and a catalogue workbook beside it."""

    media_type: str
    data: bytes
    name: str = ""
    catalogue: bytes = b""


async def read_body(request: HttpRequest) -> Body:
    """
    Take the body in.

    Raises
    ------
    Problem
        When it is of a kind nobody reads here, or a form without a file.
    """
    media_type = request.headers.get("content-type", "").partition(";")[0].strip().lower()
    if media_type == FORM:
        return await _read_form(request)
    if media_type not in ACCEPTED:
        detail = f"Content-Type {media_type[:80]!r} is not read here; send {', '.join(ACCEPTED)}."
        raise Problem(415, "unsupported-media-type", detail, headers={"Accept-Post": ", ".join(ACCEPTED)})
    name = f"upload{_SUFFIXES.get(media_type, '')}"
    return Body(media_type, await request.body(), name)


async def _read_form(request: HttpRequest) -> Body:
    async with request.form(max_files=2, max_fields=4) as form:
        file, catalogue = form.get("file"), form.get("catalogue")
        if not isinstance(file, UploadFile):
            raise Problem(422, "file-missing", "The form needs a file in its field named file.")
        name = unquote(file.filename or "")
        media_type = _KINDS.get(PurePath(name).suffix.lower(), XLSX)
        lent = await catalogue.read() if isinstance(catalogue, UploadFile) else b""
        return Body(media_type, await file.read(), name, lent)


async def understand(body: Body, service: Service, *, alone: bool, unit: Unit | None) -> Request:
    """
    Make a planning request of what was sent; never on the event loop.

    Parameters
    ----------
    alone
        Whether the service lends nothing: no families, no bars, no offcuts.
    unit
        Unit of bare numbers in a workbook or CSV file that names none.

    Raises
    ------
    InputRefused
        When anything in it must be settled first.
    """
    return await run_in_threadpool(_understand, body, service, alone, unit)


def _understand(body: Body, service: Service, alone: bool, unit: Unit | None) -> Request:
    have = Contents()
    if not alone:
        with service.store.read() as session:
            have = contents(session)
    if body.media_type == JSON:
        return read_request(lend(text_of(body.data), have), source="request")
    work = ReadList(name=body.name, body=body.data, have=have, catalogue=body.catalogue, unit=unit)
    request = service.clerks.ask(work)
    assert isinstance(request, Request)
    return narrowed(request)


def text_of(data: bytes) -> str:
    """
    Give a JSON body as text.

    Raises
    ------
    Problem
        When it is not UTF-8.
    """
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as why:
        raise Problem(400, "not-utf-8", f"JSON is read in UTF-8; byte {why.start} is none.") from None
