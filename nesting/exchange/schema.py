"""JSON Schemas of the documents (draft 2020-12)."""

from __future__ import annotations

from typing import Any, Literal

from pydantic import BaseModel

DIALECT = "https://json-schema.org/draft/2020-12/schema"


def schema_of(
    document: type[BaseModel], mode: Literal["validation", "serialization"], example: dict[str, object]
) -> dict[str, Any]:
    """Give a document's schema with its dialect and an example."""
    schema = document.model_json_schema(by_alias=True, mode=mode)
    return {"$schema": DIALECT, **schema, "examples": [example]}
