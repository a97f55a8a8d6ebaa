"""Reports from the shop as JSON documents, version 1."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any, ClassVar, Literal

from pydantic import Field, StrictBool, StrictInt, ValidationError

from nesting.domain.made import Span
from nesting.domain.report import BarReport, Miscut, Outcome, ShopReport
from nesting.errors import InputRefused, Where
from nesting.exchange.json_lengths import Allowance, MaybeAllowance, Size, unit_of
from nesting.exchange.json_numbers import Count
from nesting.exchange.json_text import pointer, read_tree, write_tree
from nesting.exchange.refused import findings_of
from nesting.exchange.request_part import RequestPart
from nesting.exchange.schema import schema_of
from nesting.units import Unit

_SOURCE = "report"
SHOP_REPORT_EXAMPLE: dict[str, Any] = {
    "schema": 1,
    "plan": "31ade26ed40e",
    "unit": "mm",
    "bars": [
        {"bar": 1, "outcome": "done", "tail": 91.5},
        {"bar": 2, "outcome": "done", "miscuts": [{"piece": "OY-305-2", "length": 612}]},
        {"bar": 3, "outcome": "stopped", "made": 1, "defects": [{"start": 1500, "end": "1510 mm"}]},
        {"bar": 4, "outcome": "not found"},
    ],
    "lost": ["R-17"],
}


class MiscutPart(RequestPart):
    """A piece that came out wrong."""

    domain: ClassVar[type] = Miscut

    piece: str
    """Id of the piece."""
    length: MaybeAllowance = None
    """What came out; left out when nothing of it can be used, or when it was not cut."""


class DefectPart(RequestPart):
    """A damaged stretch, measured from the end that leads at the saw."""

    domain: ClassVar[type] = Span

    start: Allowance
    """Where it begins."""
    end: Size
    """Where it ends."""


class BarReportPart(RequestPart):
    """What became of one bar."""

    domain: ClassVar[type] = BarReport
    silent: ClassVar[frozenset[str]] = frozenset({"made", "short"})

    bar: StrictInt
    """Number of the bar in the plan."""
    outcome: Outcome
    """done; stopped: given up after some cuts; frozen: stays as it is; not found: an offcut that is lost."""
    tail: MaybeAllowance = None
    """Measured tail; of a stopped bar without damage, what was left of it."""
    made: Count = 0
    """Cuts made before the bar was stopped; of a done bar all its cuts, or left out."""
    miscuts: tuple[MiscutPart, ...] = ()
    """Pieces that came out wrong."""
    defects: tuple[DefectPart, ...] = ()
    """Damaged stretches of a stopped bar."""
    short: StrictBool = False
    """Whether the bar itself was shorter than it should be, so that the measured tail is."""


class ShopReportDocument(RequestPart):
    """What the shop reports of a plan; bars that are not named are open."""

    domain: ClassVar[type] = ShopReport
    apart: ClassVar[frozenset[str]] = frozenset({"version", "unit"})

    version: Literal[1] = Field(alias="schema")
    """Version of this document, 1."""
    plan: str = ""
    """Id of the plan that was cut by; empty when the report does not say."""
    unit: Unit | None = None
    """Unit of lengths that are bare numbers; without it a bare number is refused."""
    bars: tuple[BarReportPart, ...] = ()
    """The bars, one entry each."""
    lost: tuple[str, ...] = ()
    """Tags of offcuts that were not found, beside those of the bars."""

    @classmethod
    def items(cls, value: ShopReport) -> Iterator[tuple[str, object]]:
        """Begin with the version."""
        yield "schema", 1
        yield from super().items(value)


def read_shop_report(text: str, *, source: str = _SOURCE) -> ShopReport:
    """
    Read a report from the shop.

    Raises
    ------
    InputRefused
        When anything in it is not understood, misspelt, contradictory or missing; carries every
        finding, each at its JSON pointer.
    """
    tree, findings = read_tree(text, source)
    try:
        document = ShopReportDocument.model_validate(tree, context={"unit": unit_of(tree)})
    except ValidationError as error:
        raise InputRefused((*findings, *findings_of(error, ShopReportDocument, source))) from error
    if findings:
        raise InputRefused(tuple(findings))
    report: ShopReport = document.to_domain()
    placed = (replace(bar, where=Where(source, pointer("bars", at))) for at, bar in enumerate(report.bars))
    return replace(report, bars=tuple(placed))


def write_shop_report(report: ShopReport) -> str:
    """Give a report as a document that reads back as the same report; lengths in nanometres."""
    return write_tree(ShopReportDocument.tree(report))


def shop_report_schema() -> dict[str, Any]:
    """Give the JSON Schema (draft 2020-12) of the report."""
    return schema_of(ShopReportDocument, "validation", SHOP_REPORT_EXAMPLE)
