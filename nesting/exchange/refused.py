"""Every fault of a document as a finding at its JSON pointer."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from difflib import get_close_matches
from typing import Any

from pydantic import ValidationError

from nesting.errors import Finding, Severity, Where
from nesting.exchange.json_lengths import GivenTwice, Nanometres
from nesting.exchange.json_text import pointer
from nesting.exchange.part import Part, part_in

_LONGEST_SHOWN = 60
_CODES = {
    "missing": ("missing-key", "This key is needed."),
    "extra_forbidden": ("unknown-key", "This key is not known here."),
    "literal_error": ("not-a-choice", ""),
    "enum": ("not-a-choice", ""),
    "string_type": ("not-a-text", "A text is expected."),
    "string_unicode": ("not-a-text", "A text in Unicode is expected."),
    "int_type": ("not-a-whole-number", "A whole number is expected."),
    "bool_type": ("not-true-or-false", "Either true or false is expected."),
    "tuple_type": ("not-a-list", "A list is expected."),
    "model_type": ("not-an-object", "An object is expected."),
    "model_attributes_type": ("not-an-object", "An object is expected."),
    "float_type": ("not-a-number", "A number is expected."),
    "greater_than_equal": ("out-of-range", ""),
    "less_than_equal": ("out-of-range", ""),
}


def findings_of(error: ValidationError, document: type[Part], source: str) -> Iterator[Finding]:
    """Give the faults of a document one by one, in the order of the document's fields."""
    for fault in error.errors():
        context: Mapping[str, Any] = fault.get("ctx", {})
        steps = list(fault["loc"])
        if context.get("key"):
            steps[-1] = context["key"]
        if context.get("under"):
            steps.append(context["under"])
        code, message = _CODES.get(fault["type"], (fault["type"].replace("_", "-"), ""))
        message = message or _sentence(fault["msg"])
        if code == "unknown-key":
            message += _nearest(str(steps[-1]), document, steps[:-1])
        whole = fault["type"] == "missing" or context.get("under")
        yield Finding(
            severity=Severity.ASK if context.get("ask") else Severity.ERROR,
            code=code,
            where=Where(source, pointer(*steps)),
            found="" if whole else _shown(fault["input"]),
            message=message,
        )


def _sentence(text: str) -> str:
    said = text.replace("Input should be", "Expected is")
    return said if said.endswith((".", "?")) else f"{said}."


def _nearest(key: str, document: type[Part], steps: list[str | int]) -> str:
    """Name the key that was probably meant, among those known at this place."""
    part: type[Part] | None = document
    for step in steps:
        if isinstance(step, str) and part is not None:
            by_key = {info.alias or name: info.annotation for name, info in part.model_fields.items()}
            part = part_in(by_key.get(step))
    if part is None:
        return ""
    known = [info.alias or name for name, info in part.model_fields.items()]
    close = get_close_matches(key, known, n=1)
    return f" Perhaps {close[0]!r} is meant." if close else f" Known are {', '.join(known)}."


def _shown(value: object) -> str:
    if isinstance(value, Nanometres):
        value = value.raw
    elif isinstance(value, GivenTwice):
        value = value.text
    if isinstance(value, dict):
        return "an object"
    if isinstance(value, list | tuple):
        return "a list"
    if value is None or isinstance(value, bool):
        return {None: "null", True: "true", False: "false"}[value]
    return str(value)[:_LONGEST_SHOWN]
