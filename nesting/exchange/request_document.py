"""The request as a JSON document, version 1."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar, Literal

from pydantic import Field

from nesting.domain.request import Request
from nesting.domain.status import Purpose
from nesting.exchange.json_text import pointer
from nesting.exchange.request_buying import BuyingPart
from nesting.exchange.request_families import FamilyPart
from nesting.exchange.request_findings import FindingPart
from nesting.exchange.request_goals import GoalsPart
from nesting.exchange.request_lines import PieceLinePart, RunPart
from nesting.exchange.request_part import RequestPart
from nesting.exchange.request_saw import SawPart
from nesting.exchange.request_stock import OffcutPart, StockPart
from nesting.units import Unit

REQUEST = "request"
# Tables whose lines remember where they stood in the user's own list.
PLACED = ("stock", "offcuts", "runs", "piece_lines")


class RequestDocument(RequestPart):
    """Everything one planning asks for: runs or pieces, catalogue, stock, rack and saw."""

    domain: ClassVar[type] = Request
    silent: ClassVar[frozenset[str]] = frozenset({"buying", "purpose", "goals"})
    apart: ClassVar[frozenset[str]] = frozenset({"version", "unit"})

    version: Literal[1] = Field(alias="schema")
    """Version of this document, 1."""
    title: str = ""
    """Name of the building or the order."""
    unit: Unit | None = None
    """Unit of lengths that are bare numbers; without it a bare number is refused."""
    currency: str = ""
    """Code of the prices' currency by ISO 4217; empty when there are no prices."""
    saw: SawPart = SawPart()
    """The channel saw."""
    cover_saw: SawPart | None = None
    """The saw for separately cut covers; the channel saw when missing."""
    buying: BuyingPart = BuyingPart()
    """What holds for the whole order: reserve, what offcuts count for, the date."""
    purpose: Purpose = Purpose.ORDER
    """order: sizes from drawings are planned too; cut: measured sizes only."""
    goals: GoalsPart = GoalsPart()
    """What the plan should be good at beside its cost."""
    families: tuple[FamilyPart, ...] = ()
    """The catalogue."""
    stock: tuple[StockPart, ...] = ()
    """Stock lengths on offer."""
    offcuts: tuple[OffcutPart, ...] = ()
    """Offcuts on the rack."""
    runs: tuple[RunPart, ...] = ()
    """What to make: runs to be taken off."""
    piece_lines: tuple[PieceLinePart, ...] = ()
    """What to saw: pieces already taken off."""
    findings: tuple[FindingPart, ...] = ()
    """What an earlier reader noticed and did not refuse."""

    @classmethod
    def items(cls, value: Request) -> Iterator[tuple[str, object]]:
        """Begin with the version; places that are this document's own go without saying."""
        yield "schema", 1
        for key, held in super().items(value):
            if key in PLACED and isinstance(held, list):
                held = [_placed(row, pointer(key, position)) for position, row in enumerate(held)]
            yield key, held


def _placed(row: dict[str, object], own: str) -> dict[str, object]:
    """Leave out a line's place when it is this document's; say it when nobody knows it."""
    where = row.pop("where", {"source": REQUEST})
    return row if where == {"source": REQUEST, "at": own} else {**row, "where": where}
