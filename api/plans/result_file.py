"""A plan's result as a file to keep: JSON, workbook, drawing or one of its papers."""

from __future__ import annotations

from dataclasses import dataclass

from api.deps import Service
from api.plans.render import JSON, PDF, SVG
from api.plans.service import get_plan
from api.processes.clerk_work import Render
from api.store.documents import DocumentKind, get_document
from api.web.problems import Problem
from nesting.reports.papers import Paper
from nesting.units import Unit


@dataclass(frozen=True, slots=True, kw_only=True)
class ResultFile:
    """The file's bytes and the name to keep it under."""

    body: bytes
    media_type: str
    name: str


def result_file(
    service: Service, plan_id: str, media_type: str, paper: Paper, unit: Unit | None
) -> ResultFile:
    """
    Give a plan's result in one of the types it is offered in.

    Parameters
    ----------
    paper, unit
        Which paper, when a PDF is asked for, and the unit that leads; None for the plan's own.

    Raises
    ------
    Problem
        When there is no such plan, it has no result yet, or that paper has nothing to say.
    """
    with service.store.read() as session:
        row = get_plan(session, plan_id)
        document = get_document(session, plan_id, DocumentKind.RESULT)
    if document is None:
        detail = row.fault or f"The plan is {row.state}; there is no result yet."
        raise Problem(409, "no-result", detail)
    if media_type == JSON:
        body, ending = document.encode(), ".json"
    else:
        body = service.clerks.ask(Render(document, media_type, paper.value, unit))
        ending = f"-{paper.value}.pdf" if media_type == PDF else ".svg" if media_type == SVG else ".xlsx"
    if not body:
        raise Problem(404, "nothing-to-print", f"The plan needs no {paper.value.replace('-', ' ')}.")
    return ResultFile(body=body, media_type=media_type, name=f"plan-{row.number}{ending}")
