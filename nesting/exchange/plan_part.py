"""The common ground of the plan's objects: lengths twice, texts for people aside."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, ClassVar

from pydantic import GetJsonSchemaHandler, model_validator
from pydantic_core import CoreSchema

from nesting.exchange.json_lengths import NM
from nesting.exchange.part import Part
from nesting.units import mm_text

MM = "_mm"


class PlanPart(Part):
    """An object of the plan: every length is given in nanometres and, for people, in millimetres."""

    # Texts and sums for people, worked out from the rest: key -> description.
    told: ClassVar[Mapping[str, str]] = {}

    @classmethod
    def twins(cls) -> dict[str, str]:
        """Give the keys of the millimetre texts, each with the field it repeats."""
        return {n.removesuffix(NM) + MM: n for n in cls.model_fields if n.endswith(NM)}

    @classmethod
    def items(cls, value: Any) -> Iterator[tuple[str, object]]:
        """Put the millimetres behind the nanometres."""
        for key, held in super().items(value):
            yield key, held
            if key.endswith(NM):
                yield key.removesuffix(NM) + MM, mm_text(held) if isinstance(held, int) else None

    @model_validator(mode="before")
    @classmethod
    def _without_what_is_told(cls, given: object) -> object:
        """Leave the texts for people aside; the numbers decide."""
        if not isinstance(given, Mapping):
            return given
        aside = cls.twins().keys() | cls.told.keys()
        return {key: value for key, value in given.items() if key not in aside}

    @classmethod
    def __get_pydantic_json_schema__(
        cls, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        """Show the texts for people."""
        made = handler.resolve_ref_schema(handler(schema))
        for twin, field in cls.twins().items():
            optional = "anyOf" in made["properties"][field]
            made["properties"][twin] = {
                "description": f"The same as `{field}`, in millimetres, for people; not read.",
                "type": ["string", "null"] if optional else "string",
                "title": twin.replace("_", " ").capitalize(),
            }
        for key, description in cls.told.items():
            made["properties"][key] = {
                "description": f"{description} For people; not read.",
                "type": "object" if key == "totals" else "string",
                "title": key.capitalize(),
            }
        return made
