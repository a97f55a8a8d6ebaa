"""Every field of the domain has its key in the documents, none is forgotten when a field is added."""

from __future__ import annotations

from dataclasses import fields, is_dataclass

import pytest

from nesting.exchange.part import Part, attribute_of, parts_of
from nesting.exchange.plan_document import PlanDocument

# The plan holds the request, so these are all parts there are.
PARTS = sorted(
    {p for p in parts_of(PlanDocument) if is_dataclass(getattr(p, "domain", None))}, key=lambda p: p.__name__
)


@pytest.mark.parametrize("part", PARTS)
def test_every_field_of_the_domain_has_a_key(part: type[Part]) -> None:
    """A field added to the domain and forgotten here would be lost by every file, silently."""
    keys = {attribute_of(name) for name in part.model_fields.keys() - part.apart}
    assert keys == {field.name for field in fields(part.domain)}


def test_names_lose_their_unit_and_their_mark() -> None:
    """``length_nm`` stands for ``length``; ``copy_`` is a name that the base class has taken."""
    assert attribute_of("length_nm") == "length"
    assert attribute_of("copy_") == "copy"
    assert attribute_of("kerf_loss_nm") == "kerf_loss"


def test_a_document_s_parts_are_all_found() -> None:
    """Objects inside objects inside lists too: what is not found is not held to the domain above."""
    names = {part.__name__ for part in parts_of(PlanDocument)}
    assert {"PlanDocument", "GroupPart", "BarPart", "CutPart", "RequestDocument", "MitrePart"} <= names
