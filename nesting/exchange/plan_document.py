"""The plan as a JSON document, version 1."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Annotated, ClassVar, Literal

from pydantic import Field, StrictInt

from nesting.domain.plan import Plan
from nesting.exchange.plan_group import GroupPart
from nesting.exchange.plan_part import PlanPart
from nesting.exchange.plan_pieces import PiecePart, StripPart, UnplacedPart
from nesting.exchange.plan_purchase import JobPart, OrderPart
from nesting.exchange.plan_reels import ReelPlanPart
from nesting.exchange.plan_small_parts import SmallPartsPart
from nesting.exchange.plan_totals import TotalsPart
from nesting.exchange.request_document import RequestDocument
from nesting.exchange.request_findings import FindingPart


class PlanDocument(PlanPart):
    """The whole answer, with all that is needed to check it."""

    domain: ClassVar[type] = Plan
    apart: ClassVar[frozenset[str]] = frozenset({"version"})
    silent: ClassVar[frozenset[str]] = frozenset({"revision"})
    told: ClassVar[Mapping[str, str]] = {"totals": "Sum of the groups' totals."}

    version: Literal[1] = Field(alias="schema")
    """Version of this document, 1."""
    id: str
    """Digest of what was asked for and of the parameters."""
    seed: StrictInt
    """Seed of the search."""
    follows: str = ""
    """Id of the plan that this one continues after a report from the shop; empty for a first plan."""
    revision: Annotated[StrictInt, Field(ge=0)] = 0
    """How many plans came before this one; left out for a first plan."""
    order: tuple[OrderPart, ...]
    """What to order."""
    groups: tuple[GroupPart, ...]
    """The bars, material by material."""
    jobs: tuple[JobPart, ...]
    """Share of each job."""
    unplaced: tuple[UnplacedPart, ...]
    """What is left out, with the reasons."""
    pieces: tuple[PiecePart, ...]
    """Every piece of the take-off, placed or not."""
    strips: tuple[StripPart, ...]
    """Strip of each run."""
    findings: tuple[FindingPart, ...]
    """What deserves a look."""
    small_parts: SmallPartsPart | None = None
    """Caps, clips, strip and the like; missing in plans older than they are."""
    reels: tuple[ReelPlanPart, ...] = ()
    """Strip on its reels; missing where no family names its reel."""
    request: RequestDocument
    """What was asked for."""

    @classmethod
    def items(cls, value: Plan) -> Iterator[tuple[str, object]]:
        """Begin with the version; the totals stand before the groups."""
        yield "schema", 1
        for key, held in super().items(value):
            if key == "groups":
                yield "totals", TotalsPart.tree(value.totals)
            yield key, held
