"""Allowances of the saw that nobody gave are named, not taken in silence."""

from __future__ import annotations

from nesting.domain.rules import DEFAULT_SAW
from nesting.errors import Severity
from nesting.exchange import read_request
from nesting.exchange.request_saw import SawPart
from nesting.units import mm
from tests.exchange.changed_request import changed


def test_missing_saw_values_are_named() -> None:
    """Kerf and trims decide how many bars are bought; a default must never be silent."""
    request = read_request(changed("/saw", ...))
    assert request.saw == DEFAULT_SAW
    assert [(str(f.where), f.severity) for f in request.findings] == [
        (f"request!/saw/{name}", Severity.WARNING)
        for name in ("kerf", "head_trim", "tail_loss", "keep_length", "grip")
    ]
    assert request.findings[0].message.startswith("No kerf is given; 3 mm is taken")
    partly = read_request(changed("/cover_saw", {"kerf": "2 mm", "head_trim_nm": 0}))
    assert partly.cover_saw is not None
    assert (partly.cover_saw.kerf, partly.cover_saw.head_trim) == (mm(2), mm(0))
    assert [f.where.at for f in partly.findings] == [
        "/cover_saw/tail_loss",
        "/cover_saw/keep_length",
        "/cover_saw/grip",
    ]


def test_a_saw_without_a_step_lacks_nothing() -> None:
    """It cuts any length; that is no default to be warned of."""
    assert SawPart().missing() == ["kerf", "head_trim", "tail_loss", "keep_length", "grip"]
