"""Plans read from JSON and written to it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from pydantic import ValidationError

from nesting.domain.plan import Plan
from nesting.errors import Finding, InputRefused, Severity, Where
from nesting.exchange.json_lengths import unit_of
from nesting.exchange.json_text import pointer, read_tree, write_tree
from nesting.exchange.part import parts_of
from nesting.exchange.plan_document import PlanDocument
from nesting.exchange.plan_example import PLAN_EXAMPLE
from nesting.exchange.plan_part import MM, PlanPart
from nesting.exchange.refused import findings_of
from nesting.exchange.request import default_warnings, request_of
from nesting.exchange.request_document import REQUEST
from nesting.exchange.schema import schema_of

_SOURCE = "plan"
# Keys of texts and sums for people, wherever in the plan they stand.
_TOLD = frozenset(key for part in parts_of(PlanDocument) if issubclass(part, PlanPart) for key in part.told)


def read_plan(text: str) -> Plan:
    """
    Read a plan document; ``read_plan(write_plan(plan))`` is the same plan.

    The numbers decide. Where a text for people (millimetres, yield, proof) says something else, as
    after an edit by hand, the plan carries a warning. Whether the plan is right is the auditor's
    question.

    Raises
    ------
    InputRefused
        When anything in the document is not understood, misspelt or missing; carries every finding,
        each at its JSON pointer.
    """
    tree, findings = read_tree(text, _SOURCE)
    asked = tree.get("request") if isinstance(tree, dict) else None
    try:
        document = PlanDocument.model_validate(tree, context={"unit": unit_of(asked)})
    except ValidationError as error:
        raise InputRefused((*findings, *findings_of(error, PlanDocument, _SOURCE))) from error
    if findings:
        raise InputRefused(tuple(findings))
    request = request_of(document.request, REQUEST)
    warnings = tuple(default_warnings(document.request, REQUEST))
    request = replace(request, findings=(*request.findings, *warnings))
    plan: Plan = replace(document.to_domain(), request=request)
    stale = tuple(_stale(tree, PlanDocument.tree(plan), ()))
    return replace(plan, findings=(*plan.findings, *stale))


def write_plan(plan: Plan) -> str:
    """Give a plan as JSON text (RFC 8259) in a stable order, every length also in millimetres."""
    return write_tree(PlanDocument.tree(plan))


def plan_schema() -> dict[str, Any]:
    """Give the JSON Schema (draft 2020-12) of the plan document."""
    return schema_of(PlanDocument, "validation", PLAN_EXAMPLE)


def _stale(given: object, fresh: object, steps: tuple[str | int, ...]) -> Iterator[Finding]:
    """Find the texts for people that the numbers beside them contradict."""
    if isinstance(given, list) and isinstance(fresh, list):
        for position, (old, new) in enumerate(zip(given, fresh, strict=False)):
            yield from _stale(old, new, (*steps, position))
    if not isinstance(given, dict) or not isinstance(fresh, dict):
        return
    for key in given.keys() & fresh.keys() - {"request"}:
        place = (*steps, key)
        told = key.endswith(MM) or not _TOLD.isdisjoint(place)
        if told and not isinstance(fresh[key], dict):
            if given[key] != fresh[key]:
                yield Finding(
                    severity=Severity.WARNING,
                    code="text-disagrees",
                    where=Where(_SOURCE, pointer(*place)),
                    found=str(given[key])[:60],
                    message=f"The numbers say {fresh[key]}; they were read, this text was not.",
                )
        else:
            yield from _stale(given[key], fresh[key], place)
