"""The concrete answer; all values of a plan are imported from here, whichever module defines them."""

from __future__ import annotations

from dataclasses import dataclass

from nesting.domain.group_plan import GroupPlan, Margins, SpareCut
from nesting.domain.pieces import Piece, StripCut
from nesting.domain.planned_bar import Cut, PlannedBar, TailFate
from nesting.domain.purchase import Alternative, JobShare, OrderLine
from nesting.domain.reels import ReelPlan
from nesting.domain.request import Request
from nesting.domain.small_parts import SmallParts
from nesting.domain.totals import Totals
from nesting.errors import NOWHERE, Finding, Where
from nesting.units import Length

__all__ = [
    "Alternative",
    "Cut",
    "GroupPlan",
    "JobShare",
    "Margins",
    "OrderLine",
    "Plan",
    "PlannedBar",
    "SpareCut",
    "TailFate",
    "Totals",
    "Unplaced",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Unplaced:
    """
    A piece, or a whole run, that the plan leaves out.

    Parameters
    ----------
    piece
        Id of the piece; empty when the whole run is left out.
    length
        Of the piece; of a whole run what it came to, else its measured size.
    reason, code
        Why, in words and for programs.
    where
        Where the line stood in the user's own list.
    """

    job: str
    run: str
    piece: str
    length: Length
    reason: str
    code: str
    where: Where = NOWHERE


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """
    The whole answer, with all that an auditor needs to check it.

    Parameters
    ----------
    id
        Digest of the normalised request and the parameters.
    request
        What was asked for.
    pieces
        Every piece the take-off gives, placed or not.
    groups
        One per material, in the order of their names.
    small_parts
        Caps, clips, strip and whatever else the fixtures need; None in plans that do not say.
    reels
        Strip on its reels, article by article; empty where no family names its reel.
    follows, revision
        Id of the plan that this one continues after a report from the shop, and how many plans came
        before it; empty and 0 for a first plan.
    """

    id: str
    request: Request
    pieces: tuple[Piece, ...]
    strips: tuple[StripCut, ...]
    groups: tuple[GroupPlan, ...]
    order: tuple[OrderLine, ...]
    jobs: tuple[JobShare, ...]
    unplaced: tuple[Unplaced, ...]
    findings: tuple[Finding, ...] = ()
    seed: int = 0
    small_parts: SmallParts | None = None
    reels: tuple[ReelPlan, ...] = ()
    follows: str = ""
    revision: int = 0

    @property
    def totals(self) -> Totals:
        """Give the sum of the groups' accounts."""
        total = Totals()
        for group in self.groups:
            total = total + group.totals
        return total
