"""Requests read from JSON and written to it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from pydantic import ValidationError

from nesting.domain.request import Request
from nesting.domain.rules import DEFAULT_SAW
from nesting.errors import Finding, InputRefused, Severity, Where
from nesting.exchange.json_lengths import unit_of
from nesting.exchange.json_text import pointer, read_tree, write_tree
from nesting.exchange.refused import findings_of
from nesting.exchange.request_document import PLACED, REQUEST, RequestDocument
from nesting.exchange.request_example import REQUEST_EXAMPLE
from nesting.exchange.schema import schema_of
from nesting.takeoff.in_sections import runs_in_sections
from nesting.takeoff.plausible import (
    FREE_BAR,
    MOST,
    TOO_MANY,
    pieces_too_many,
    short_lines,
    unlikely_allowance,
)
from nesting.units import Unit, length_text


def read_request(text: str, *, source: str = REQUEST) -> Request:
    """
    Read a request document.

    Parameters
    ----------
    source
        Name of the document in findings, such as the file's.

    Returns
    -------
    The request; its findings hold a warning for each value of the saw that a default stands in for.

    Raises
    ------
    InputRefused
        When anything in the document is not understood, misspelt, contradictory or missing; carries
        every finding, each at its JSON pointer.
    """
    tree, findings = read_tree(text, source)
    try:
        document = RequestDocument.model_validate(tree, context={"unit": unit_of(tree)})
    except ValidationError as error:
        raise InputRefused((*findings, *findings_of(error, RequestDocument, source))) from error
    findings += _contradictions(document, source)
    warnings = tuple(default_warnings(document, source))
    if findings:
        raise InputRefused((*findings, *warnings))
    request = request_of(document, source)
    if pieces := pieces_too_many(request):
        raise InputRefused((_error(source, (), "too-many-pieces", str(pieces), TOO_MANY), *warnings))
    told = {(finding.code, finding.where) for finding in request.findings}
    unlikely = plausibility_warnings(request, document, source)
    warnings += tuple(one for one in unlikely if (one.code, one.where) not in told)
    return replace(request, findings=(*request.findings, *warnings))


def write_request(request: Request) -> str:
    """Give a request as a document that reads back as the same request; lengths in nanometres."""
    return write_tree(RequestDocument.tree(request))


def request_schema() -> dict[str, Any]:
    """Give the JSON Schema (draft 2020-12) of the request document."""
    return schema_of(RequestDocument, "validation", REQUEST_EXAMPLE)


def request_of(document: RequestDocument, source: str) -> Request:
    """Give the request; lines that name no place of their own stand where the document has them."""
    request: Request = document.to_domain()
    placed: dict[str, Any] = {}
    for table in PLACED:
        rows = zip(getattr(document, table), getattr(request, table), strict=True)
        placed[table] = tuple(
            made if row.where else replace(made, where=Where(source, pointer(table, position)))
            for position, (row, made) in enumerate(rows)
        )
    return replace(request, **placed)


def default_warnings(document: RequestDocument, source: str) -> Iterator[Finding]:
    """Name every value of a saw that the document leaves to common practice."""
    for saw, part in (("saw", document.saw), ("cover_saw", document.cover_saw)):
        for name in part.missing() if part else ():
            value = length_text(getattr(DEFAULT_SAW, name), Unit.MM)
            yield Finding(
                severity=Severity.WARNING,
                code="default-used",
                where=Where(source, pointer(saw, name)),
                found="",
                message=f"No {name.replace('_', ' ')} is given; {value} is taken, which is common practice.",
            )


def plausibility_warnings(request: Request, document: RequestDocument, source: str) -> Iterator[Finding]:
    """Warn of what can be read exactly and is hardly meant, as in a workbook: saws, bars, slivers, joints."""

    def warning(code: str, where: Where, found: str, message: str) -> Finding:
        return Finding(severity=Severity.WARNING, code=code, where=where, found=found, message=message)

    for key, part, saw in (
        ("saw", document.saw, request.saw),
        ("cover_saw", document.cover_saw, request.cover_saw),
    ):
        given = set(MOST) - set(part.missing()) if part else set()
        for field in (name for name in MOST if saw and name in given):
            value = getattr(saw, field)
            if said := unlikely_allowance(field, value):
                where = Where(source, pointer(key, field))
                yield warning("saw-value-unlikely", where, length_text(value, Unit.MM), said)
    for position, bar in enumerate(request.stock):
        if bar.price == 0:
            yield warning("price-zero", Where(source, pointer("stock", position, "price")), "0", FREE_BAR)
    for line in short_lines(request):
        found = length_text(line.length, Unit.MM)
        yield warning("very-short", line.where, found, f"{line.words} Check it before anything is cut.")
    yield from runs_in_sections(request)


def _contradictions(document: RequestDocument, source: str) -> Iterator[Finding]:
    """Find what each line may say by itself but not beside the others."""
    families = {family.name for family in document.families}
    for position, run in enumerate(document.runs):
        if run.family not in families:
            known = (
                f"the catalogue has {', '.join(sorted(families))}" if families else "there is no catalogue"
            )
            yield _error(
                source, ("runs", position, "family"), "unknown-family", run.family, f"Not known: {known}."
            )
    lines = [("runs", i, run.job, run.id) for i, run in enumerate(document.runs)]
    lines += [("piece_lines", i, line.job, line.id) for i, line in enumerate(document.piece_lines)]
    ids: Counter[tuple[str, str]] = Counter()
    for table, position, job, name in lines:
        ids[job, name] += 1
        if ids[job, name] > 1:
            said = f"Job {job!r} has a line of this id already; ids are unique in their job."
            yield _error(source, (table, position, "id"), "id-twice", name, said)
    names: Counter[str] = Counter()
    for position, family in enumerate(document.families):
        names[family.name] += 1
        if names[family.name] > 1:
            said = "This family is described already."
            yield _error(source, ("families", position, "name"), "family-twice", family.name, said)
    tags: Counter[str] = Counter()
    for position, offcut in enumerate(document.offcuts):
        tags[offcut.tag] += 1
        place = ("offcuts", position, "tag")
        if tags[offcut.tag] > 1:
            yield _error(source, place, "tag-twice", offcut.tag, "Another offcut has this tag.")
        if offcut.tag.startswith("stock:"):
            said = "Tags that begin with 'stock:' are kept for new bars."
            yield _error(source, place, "tag-reserved", offcut.tag, said)


def _error(source: str, steps: tuple[str | int, ...], code: str, found: str, message: str) -> Finding:
    return Finding(
        severity=Severity.ERROR, code=code, where=Where(source, pointer(*steps)), found=found, message=message
    )
