"""Everything one planning asks for, before take-off."""

from __future__ import annotations

from dataclasses import dataclass

from nesting.domain.buying import PLAIN_BUYING, BuyingRules
from nesting.domain.goals import PLAIN_GOALS, Goals
from nesting.domain.material import Family, Part
from nesting.domain.rules import SawRules
from nesting.domain.runs import PieceLine, Run
from nesting.domain.status import Purpose
from nesting.domain.stock import Offcut, StockLine
from nesting.errors import Finding


@dataclass(frozen=True, slots=True, kw_only=True)
class Request:
    """
    A run list with the catalogue, the stock, the rack and the saw it is planned on.

    Parameters
    ----------
    runs, piece_lines
        What to make: runs to be taken off, pieces already taken off, or both.
    saw, cover_saw
        The channel saw, and the saw for separately cut covers (None: the same).
    buying
        What holds for the whole order: spares, what offcuts count for, the date.
    purpose
        Whether bars are to be ordered, or cut.
    goals
        What the plan should be good at beside its cost.
    currency
        ISO 4217 code of the prices; empty when there are none.
    findings
        What the reader noticed on the way and did not refuse.
    """

    title: str = ""
    runs: tuple[Run, ...] = ()
    piece_lines: tuple[PieceLine, ...] = ()
    families: tuple[Family, ...] = ()
    stock: tuple[StockLine, ...] = ()
    offcuts: tuple[Offcut, ...] = ()
    saw: SawRules
    cover_saw: SawRules | None = None
    buying: BuyingRules = PLAIN_BUYING
    purpose: Purpose = Purpose.ORDER
    goals: Goals = PLAIN_GOALS
    currency: str = ""
    findings: tuple[Finding, ...] = ()

    def saw_for(self, part: Part) -> SawRules:
        """Give the saw that cuts this part."""
        return self.cover_saw if part is Part.COVER and self.cover_saw else self.saw

    def family(self, name: str) -> Family | None:
        """Give the catalogue's family of that name, if it has one."""
        return next((f for f in self.families if f.name == name), None)
