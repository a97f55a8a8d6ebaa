"""
Problem details (RFC 9457) with stable types.

A type is ``urn:nesting:problem:<name>``. A problem tells a caller about its own request and about
who holds a thing it asked for, never about what somebody else sent.
"""

from __future__ import annotations

import logging
import secrets
from collections.abc import Mapping, Sequence
from http import HTTPStatus
from typing import Any

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import JSONResponse
from pydantic import BaseModel, ConfigDict, Field
from sqlalchemy.exc import OperationalError
from sqlalchemy.exc import TimeoutError as PoolTimeout
from starlette.exceptions import HTTPException

from api.processes.record import finding_record
from api.web.holders import conflict_words
from api.web.wording import HTTP, worded
from nesting.errors import Finding, InputRefused
from nesting.stockroom.cutting import ReportNotPossible
from nesting.stockroom.states import StockConflict

log = logging.getLogger(__name__)

MEDIA_TYPE = "application/problem+json"
TYPE_PREFIX = "urn:nesting:problem:"
FINDINGS_SHOWN = 500


class FindingRead(BaseModel):
    """One thing the reader noticed in what was sent."""

    severity: str = Field(description="error and ask refuse the input, warning and note do not.")
    code: str = Field(description="Stable name, for programs.")
    source: str = Field(description="Sheet, file, or request.")
    at: str = Field(description="Cell such as C17, or a JSON pointer such as /runs/3/length.")
    found: str = Field(description="What stood there.")
    message: str = Field(description="What it means and what would be accepted.")


class ConflictRead(BaseModel):
    """A thing that was asked for, and who has it."""

    thing: str = Field(description="Tag of the offcut, or family, finish and length of the bars.")
    state: str = Field(description="What it is instead of free.")
    plan: str = Field(description="Id of the plan that has it; empty when none has.")
    holder: str = Field(description="Who released that plan; empty when none has it.")


class ProblemRead(BaseModel):
    """Problem details as of RFC 9457."""

    model_config = ConfigDict(
        json_schema_extra={
            "example": {
                "type": "urn:nesting:problem:not-found",
                "title": "Not found",
                "status": 404,
                "detail": "There is no plan 0193b2.",
            }
        }
    )

    type: str = Field(description="Stable name of the kind of problem, a URN.")
    title: str = Field(description="The kind of problem in words, always the same.")
    status: int = Field(description="The HTTP status.")
    detail: str = Field(description="What is wrong this time and what would be accepted.")
    instance: str | None = Field(default=None, description="Name of this one event in the service's log.")
    findings: list[FindingRead] | None = Field(
        default=None, description="Every finding, where input was refused."
    )
    conflicts: list[ConflictRead] | None = Field(default=None, description="Who has what was asked for.")


class Problem(Exception):
    """
    A refusal on its way to the caller.

    Parameters
    ----------
    name
        Stable end of the type.
    """

    def __init__(
        self,
        status: int,
        name: str,
        detail: str,
        *,
        title: str | None = None,
        headers: Mapping[str, str] | None = None,
        findings: Sequence[Finding] = (),
        conflicts: Sequence[Mapping[str, str]] = (),
    ) -> None:
        super().__init__(detail)
        self.status, self.name, self.detail = status, name, detail
        self.title = title or name.replace("-", " ").capitalize()
        self.headers, self.findings, self.conflicts = headers, findings, conflicts

    def response(self) -> JSONResponse:
        """Give the answer."""
        body: dict[str, Any] = {
            "type": TYPE_PREFIX + self.name,
            "title": self.title,
            "status": self.status,
            "detail": self.detail,
        }
        if self.findings:
            body["findings"] = [_told(finding) for finding in self.findings[:FINDINGS_SHOWN]]
        if self.conflicts:
            body["conflicts"] = [dict(conflict) for conflict in self.conflicts]
        return JSONResponse(body, self.status, headers=self.headers, media_type=MEDIA_TYPE)


def _told(finding: Finding) -> dict[str, str]:
    """Give a finding with what a caller of the service can do about it."""
    record = finding_record(finding)
    return record | {"message": worded(record["message"], HTTP)}


def not_found(what: str) -> Problem:
    """Give the problem of a thing that is not there."""
    return Problem(404, "not-found", f"There is no {what}.")


def install(app: FastAPI) -> None:
    """Turn every exception of the service into problem details."""

    @app.exception_handler(Problem)
    def refused(_: Request, why: Problem) -> JSONResponse:
        return why.response()

    @app.exception_handler(InputRefused)
    def input_refused(_: Request, why: InputRefused) -> JSONResponse:
        return _input_refused(why.findings)

    @app.exception_handler(StockConflict)
    def conflict(request: Request, why: StockConflict) -> JSONResponse:
        with request.app.state.service.store.read() as session:
            detail, by = conflict_words(session, why)
        who = {"thing": why.thing, "state": why.state, "plan": why.plan, "holder": by}
        return Problem(409, "stock-conflict", detail, conflicts=[who]).response()

    @app.exception_handler(ReportNotPossible)
    def not_possible(_: Request, why: ReportNotPossible) -> JSONResponse:
        return Problem(422, "report-not-possible", str(why)).response()

    @app.exception_handler(RequestValidationError)
    def not_valid(_: Request, why: RequestValidationError) -> JSONResponse:
        return _not_valid(why)

    @app.exception_handler(HTTPException)
    def http(_: Request, why: HTTPException) -> JSONResponse:
        title = HTTPStatus(why.status_code).phrase
        name = title.lower().replace(" ", "-").replace("'", "")
        return Problem(
            why.status_code, name, str(why.detail), title=title.capitalize(), headers=why.headers
        ).response()

    @app.exception_handler(OperationalError)
    @app.exception_handler(PoolTimeout)
    def database(_: Request, why: Exception) -> JSONResponse:
        log.error("the database did not answer", exc_info=why)
        detail = "The database does not answer at the moment; try again."
        return Problem(503, "database-away", detail, headers={"Retry-After": "2"}).response()


def unexpected(why: BaseException) -> JSONResponse:
    """Answer what nobody foresaw: with a name to look up in the log, with nothing of what was sent."""
    incident = secrets.token_hex(6)
    log.error("incident %s", incident, exc_info=why)
    detail = "Something went wrong on our side; the operator can look the instance up in the log."
    answer = {
        "type": TYPE_PREFIX + "unexpected",
        "title": "Unexpected",
        "status": 500,
        "detail": detail,
        "instance": f"urn:nesting:incident:{incident}",
    }
    return JSONResponse(answer, 500, media_type=MEDIA_TYPE)


def _input_refused(findings: Sequence[Finding]) -> JSONResponse:
    refusing = sum(1 for finding in findings if finding.severity.refuses)
    detail = f"{refusing} finding(s) must be settled first; nothing was planned."
    return Problem(422, "input-refused", detail, findings=findings).response()


def _not_valid(why: RequestValidationError) -> JSONResponse:
    from nesting.errors import Severity, Where

    findings = [
        Finding(
            severity=Severity.ERROR,
            code=str(error["type"]).replace("_", "-").replace(".", "-"),
            where=Where(str(error["loc"][0]), "/" + "/".join(str(step) for step in error["loc"][1:])),
            found=_shown(error.get("input")),
            message=str(error["msg"]).removeprefix("Value error, "),
        )
        for error in why.errors()
    ]
    return Problem(
        422, "not-valid", "The request does not have the form asked for.", findings=findings
    ).response()


def _shown(value: object) -> str:
    text = value if isinstance(value, str) else repr(value)
    return text if len(text) <= 100 else text[:97] + "..."
