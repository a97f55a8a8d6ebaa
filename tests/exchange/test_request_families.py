"""A channel family in a document needs only its name; each fault stands at its place."""

from __future__ import annotations

from typing import Any

import pytest

from nesting.domain.material import Family
from nesting.exchange import read_request
from tests.exchange.changed_request import changed, faults


@pytest.mark.parametrize(
    ("path", "value", "code", "at"),
    [
        ("/families/0/cap_style", "flush", "cannot-be", "/families/0"),
        ("/families/0/name", "", "string-too-short", "/families/0/name"),
        ("/families/0/adhesive_rows", -1, "out-of-range", "/families/0/adhesive_rows"),
        ("/families/0/strip_watts", "bright", "not-a-number", "/families/0/strip_watts"),
    ],
)
def test_each_fault_is_refused_at_its_place(path: str, value: Any, code: str, at: str) -> None:
    """A family understood wrongly makes every piece of it wrong."""
    assert (code, at) in faults(path, value)


def test_a_family_needs_its_name_only() -> None:
    """Whoever has channels without caps, cover and strip need not say so line by line."""
    plain = read_request(changed("/families/1", {"name": "PLAIN"})).families[1]
    assert plain == Family(name="PLAIN")
