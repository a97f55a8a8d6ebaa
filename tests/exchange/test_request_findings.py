"""What an earlier reader noticed survives the way through a document, cell included."""

from __future__ import annotations

from nesting.errors import Finding, Severity, Where
from nesting.exchange.request_findings import FindingPart


def test_a_finding_comes_back_with_its_place() -> None:
    """A warning of the workbook's reader is still shown on the plan made from it."""
    finding = Finding(
        severity=Severity.WARNING,
        code="very-short",
        where=Where("Runs", "C17"),
        found="12",
        message="Check it.",
    )
    tree = FindingPart.tree(finding)
    assert tree["where"] == {"source": "Runs", "at": "C17"}
    assert FindingPart.model_validate(tree).to_domain() == finding


def test_a_finding_of_an_empty_cell_stays_empty() -> None:
    """An empty text says nothing and is left out; it is no missing one on the way back."""
    finding = Finding(
        severity=Severity.NOTE, code="default-id", where=Where("Runs"), found="", message="Row numbers."
    )
    tree = FindingPart.tree(finding)
    assert "found" not in tree
    assert FindingPart.model_validate(tree).to_domain() == finding
