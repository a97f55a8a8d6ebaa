"""The bars of one material, with their cost, its proof, and how far reality may be off."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from nesting.domain.goals import GoalPrice
from nesting.domain.material import Material
from nesting.domain.mitre import MitreSection
from nesting.domain.planned_bar import PlannedBar
from nesting.domain.progress import Certificate, StopReason
from nesting.domain.purchase import Alternative
from nesting.domain.rules import SawRules
from nesting.domain.totals import Totals
from nesting.units import Length


class GrowthOpen(StrEnum):
    """Why the growth of a material was looked for and not found."""

    TIME = "no end was found in the time"
    NO_RUNS = "no run is behind it, and piece lists do not grow"
    SHARED = "it shares limited bars with other materials"
    LEFT_OUT = "not all of it is planned"


@dataclass(frozen=True, slots=True, kw_only=True)
class Margins:
    """
    How far reality may be off before a group's plan fails.

    Parameters
    ----------
    kerf
        Largest kerf at which every bar still holds its cuts; None when no bar has two.
    bar
        How much shorter every new bar may be; None when there is no new bar.
    growth
        How much every run of the material may grow without costing more; None when it was not
        looked for.
    growth_cost
        What the next step of growth would cost; None when no end was found.
    growth_open
        Why the growth is not known, or known only as a least one; None when it was found or not looked for.
    """

    kerf: Length | None
    bar: Length | None
    growth: Length | None = None
    growth_cost: int | None = None
    growth_open: GrowthOpen | None = None


@dataclass(frozen=True, slots=True)
class SpareCut:
    """A spare piece that a bar's tail would give at no extra bar: the bar's number, the length."""

    bar: int
    length: Length


@dataclass(frozen=True, slots=True, kw_only=True)
class GroupPlan:
    """
    The bars of one material.

    Parameters
    ----------
    saw
        The saw it is cut on.
    bars
        In the order they are cut.
    priced
        Whether cost and bound are money; else they count bars bought.
    cost, bound
        Cost of the plan and proven lower bound, in ten-thousandths of the currency or in bars; as money
        it is what the order comes to, and what bars on hand and offcuts are charged with.
    ended, seconds
        Why the search ended, and how long it took.
    totals
        Where the metal goes.
    cover_follows
        Whether each bar is cut together with a cover bar of the same length.
    mitre
        Section at the mitres, when pieces are mitred; None when all ends are square. Metal is then
        counted on the centre line: a wedge beside a mitred piece goes with the strokes.
    certificate
        What the bound rests on; None when nothing was proved.
    alternative, margins
        None in plans that do not say.
    spares
        Spare pieces that the tails would give, when they were asked for.
    goals
        Every second goal that was asked for, with its price; costs are in the group's unit.
    open_units
        Most units half finished at once while the group's bars are cut in their order; None in plans
        that do not say.
    """

    material: Material
    saw: SawRules
    bars: tuple[PlannedBar, ...]
    priced: bool
    cost: int
    bound: int
    ended: StopReason
    seconds: float
    totals: Totals
    cover_follows: bool = False
    mitre: MitreSection | None = None
    certificate: Certificate | None = None
    alternative: Alternative | None = None
    margins: Margins | None = None
    spares: tuple[SpareCut, ...] = ()
    goals: tuple[GoalPrice, ...] = ()
    open_units: int | None = None

    @property
    def proved(self) -> bool:
        """Whether no cheaper plan exists."""
        return self.bound >= self.cost

    @property
    def gap(self) -> float:
        """Give (cost - bound) / cost, 0 when nothing is spent."""
        return 0.0 if self.cost == 0 else max(self.cost - self.bound, 0) / self.cost
