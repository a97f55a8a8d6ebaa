"""The common ground of all documents: strict keys, one field for each field of the domain value."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import MISSING, dataclass, fields
from enum import Enum
from functools import cache
from typing import Any, ClassVar, get_args

from pydantic import BaseModel, ConfigDict, model_validator

from nesting.domain.runs import NO_PLACE
from nesting.errors import NOWHERE, ProblemError
from nesting.exchange.json_lengths import NM
from nesting.exchange.json_values import JsonValue, refusal

# Values that say nothing; their keys are left out when written.
_NOTHING: tuple[object, ...] = (None, "", (), NO_PLACE, NOWHERE)


class Part(BaseModel):
    """
    A JSON object that stands for one value of the domain.

    Fields have the names of the domain value's fields, lengths with ``_nm`` behind. Keys that are
    not known are refused, since a misspelt key must not be ignored.
    """

    model_config = ConfigDict(extra="forbid", frozen=True, use_attribute_docstrings=True)

    domain: ClassVar[type]
    # Fields of the document that the domain value does not have.
    apart: ClassVar[frozenset[str]] = frozenset()
    # Fields that are left out when written while they hold the domain's own default.
    silent: ClassVar[frozenset[str]] = frozenset()

    @model_validator(mode="after")
    def _must_exist(self) -> Part:
        """Refuse what no shop can have, at this object."""
        if hasattr(getattr(self, "domain", None), "__post_init__"):
            try:
                self.to_domain()
            except ProblemError as why:
                raise refusal("cannot-be", str(why)) from why
        return self

    def to_domain(self) -> Any:
        """Give the value this object stands for."""
        return self.domain(**self.values())

    def values(self) -> dict[str, Any]:
        """Give the domain value's fields; keys that were left out take the domain's own defaults."""
        given: dict[str, Any] = {}
        optional = {f.name for f in fields(self.domain) if f.default is not MISSING}
        for name in type(self).model_fields.keys() - self.apart:
            value = _plain(getattr(self, name))
            attribute = attribute_of(name)
            if value is not None or attribute not in optional:
                given[attribute] = value
        return given

    @classmethod
    def tree(cls, value: Any) -> dict[str, object]:
        """Give a domain value as this object's JSON, keys in the order of the fields."""
        return dict(cls.items(value))

    @classmethod
    def items(cls, value: Any) -> Iterator[tuple[str, object]]:
        """Give the keys with what stands behind them; keys that would say nothing are left out."""
        for way in _ways_of(cls):
            held = getattr(value, way.attribute)
            if not any(held == unsaid for unsaid in way.unsaid):
                yield way.key, way.written(held)

    @classmethod
    def key_of(cls, name: str) -> str:
        """Give the key a field is written under."""
        return cls.model_fields[name].alias or name


def attribute_of(name: str) -> str:
    """Give the domain's name of a field: without unit, and without the mark of a taken name."""
    return name.removesuffix(NM).rstrip("_")


def _plain(value: Any) -> Any:
    if isinstance(value, Part):
        return value.to_domain()
    if isinstance(value, tuple):
        return tuple(_plain(inner) for inner in value)
    return value


@dataclass(frozen=True, slots=True)
class _Way:
    """How one field is written: from which attribute, under which key, in which form, and when not at all."""

    attribute: str
    key: str
    unsaid: tuple[object, ...]
    kind: JsonValue | None
    part: type[Part] | None

    def written(self, value: Any) -> object:
        """Give the value, or each of a tuple, as JSON holds it."""
        if value is None:
            return None
        return [self._one(inner) for inner in value] if isinstance(value, tuple) else self._one(value)

    def _one(self, value: Any) -> object:
        if self.kind is not None:
            return self.kind.write(value)
        if self.part is not None:
            return self.part.tree(value)
        return value.value if isinstance(value, Enum) else value


@cache
def _ways_of(part: type[Part]) -> tuple[_Way, ...]:
    """Look the ways up once: asking each value's hints anew took most of the time of writing a plan."""
    defaults = {f.name: f.default for f in fields(part.domain)} if part.silent else {}
    return tuple(
        _Way(
            attribute=attribute_of(name),
            key=part.key_of(name),
            unsaid=(
                *(() if info.is_required() else _NOTHING),
                *((defaults[attribute_of(name)],) if name in part.silent else ()),
            ),
            kind=_kind_in((info.annotation, *info.metadata)),
            part=part_in(info.annotation),
        )
        for name, info in part.model_fields.items()
        if name not in part.apart
    )


def _kind_in(hints: Iterable[Any]) -> JsonValue | None:
    """Find the kind of value among a field's hints, also the one for the items of a list."""
    for hint in hints:
        if isinstance(hint, JsonValue):
            return hint
        if not isinstance(hint, type):
            found = _kind_in((*get_args(hint), *getattr(hint, "__metadata__", ())))
            if found:
                return found
    return None


def part_in(annotation: Any) -> type[Part] | None:
    """Give the kind of object that a field, or each item of its list, holds."""
    if isinstance(annotation, type) and issubclass(annotation, Part):
        return annotation
    return next((part for inner in get_args(annotation) if (part := part_in(inner))), None)


def parts_of(document: type[Part]) -> Iterator[type[Part]]:
    """Give a document and every kind of object in it, as often as it occurs."""
    yield document
    for info in document.model_fields.values():
        inner = part_in(info.annotation)
        if inner is not None:
            yield from parts_of(inner)
