"""What all objects of a request have in common: lengths in words or in nanometres."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from pydantic import GetJsonSchemaHandler, model_validator
from pydantic_core import CoreSchema

from nesting.exchange.json_lengths import NM, GivenTwice, Nanometres, WordsOrNanometres
from nesting.exchange.part import Part


class RequestPart(Part):
    """An object of the request: a length may stand under its key or, in nanometres, under key + ``_nm``."""

    @classmethod
    def lengths(cls) -> dict[str, WordsOrNanometres]:
        """Give the fields that hold a length or a pitch, each with how it stands in JSON."""
        return {
            name: kind
            for name, info in cls.model_fields.items()
            for kind in info.metadata
            if isinstance(kind, WordsOrNanometres)
        }

    @classmethod
    def key_of(cls, name: str) -> str:
        """Write lengths in nanometres, so that nothing is rounded."""
        return f"{name}{NM}" if name in cls.lengths() else name

    @model_validator(mode="before")
    @classmethod
    def _fold(cls, given: object) -> object:
        """Bring both ways of giving a length to one field."""
        if not isinstance(given, Mapping):
            return given
        folded = dict(given)
        for name in cls.lengths():
            raw = folded.pop(f"{name}{NM}", None)
            if raw is not None:
                text = folded.get(name)
                folded[name] = Nanometres(raw) if text is None else GivenTwice(text)
        return folded

    @classmethod
    def __get_pydantic_json_schema__(
        cls, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        """Show the second way of giving a length."""
        made = handler.resolve_ref_schema(handler(schema))
        required = made.get("required", [])
        for name, kind in cls.lengths().items():
            made["properties"][f"{name}{NM}"] = {
                "description": f"The same as `{name}`, in nanometres; give one of the two.",
                "type": [*kind.nanometre_types, "null"],
                "title": f"{name.replace('_', ' ').capitalize()} in nanometres",
            }
            if name in required:
                required.remove(name)
                made.setdefault("allOf", []).append(
                    {"oneOf": [{"required": [name]}, {"required": [f"{name}{NM}"]}]}
                )
        return made
