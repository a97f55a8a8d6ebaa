"""How a search stands, why it ended, what it took."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum

from nesting.domain.packing import Packing

NEXT_BEST = "next-best"
"""Phase in which a plan is done and proved, and the purchase behind it is looked for."""


class StopReason(StrEnum):
    """Why the search for a group ended."""

    PROVED = "proved least"
    TIME = "time limit"
    CANCELLED = "cancelled"
    EXHAUSTED = "search exhausted"
    LEAST_CHANGE = "least change"


@dataclass(frozen=True, slots=True, kw_only=True)
class Progress:
    """
    A snapshot for stop criteria and observers.

    Parameters
    ----------
    group
        Name of the problem.
    phase
        Step of the recipe at work: ``start``, ``columns``, ``round``, ``close``, ``scrap``; ``buy`` where
        terms decide what bars cost, ``patterns`` for fewer patterns, ``next-best`` once the plan is proved.
    best, bound
        Cost of the best plan and proven lower bound on any plan's cost; None while unknown.
    short
        Length of pieces the best plan leaves unplaced for want of stock, nanometres.
    rounds
        Iterations so far.
    elapsed
        Seconds since the group's start.
    """

    group: str = ""
    phase: str = "start"
    best: int | None = None
    bound: int | None = None
    short: int = 0
    rounds: int = 0
    elapsed: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Certificate:
    """
    What the bound rests on, checkable without the solver.

    When no pattern of any kind of bar is worth more than ``scale`` times its cost plus its supply
    dual, and no length's dual is more than ``short_dual`` times the length where something is left
    out, then every plan that leaves out at most ``short`` costs at least
    (sum(duals * counts) - sum(supply_duals * count) - short_dual * short) / ``scale``: weak duality.
    Costs being whole, that is rounded up to a multiple of the bar costs' greatest common divisor.
    Limited kinds of which there are as many bars as pieces count as unlimited.

    Parameters
    ----------
    bound
        The claimed lower bound on the cost of any plan.
    duals
        Whole-number price of one piece of each length, shape ``(m,)``, in units of 1/``scale``.
    scale
        Units of the duals per unit of cost.
    supply_duals
        Non-negative whole-number price of each limited bar kind, shape ``(number of bars,)``, same
        units; 0 for unlimited kinds.
    closed_by
        Empty when the duals alone give the bound; else the search that raised it, which a checker
        has to trust, in plain words.
    dual_bound
        The bound that the duals alone give.
    room_bound
        What the cheapest whole bars cost that have room for all pieces and their kerfs; 0 where that is
        not said.
    short_dual
        Whole-number price of one nanometre left out, same units; 0 when everything is placed.
    """

    bound: int
    duals: tuple[int, ...]
    scale: int
    supply_duals: tuple[int, ...] = ()
    closed_by: str = ""
    dual_bound: int = 0
    short_dual: int = 0
    room_bound: int = 0

    @property
    def checkable(self) -> int:
        """The bound that anybody can check, without trusting a search."""
        return max(self.dual_bound, self.room_bound)


@dataclass(frozen=True, slots=True, kw_only=True)
class SolverReport:
    """What it took: seconds, pricing rounds, columns, and counters per step."""

    seconds: float = 0.0
    rounds: int = 0
    columns: int = 0
    counters: tuple[tuple[str, int], ...] = field(default=())


@dataclass(frozen=True, slots=True, kw_only=True)
class Result:
    """
    Answer for one group: what was found, how good it provably is, why it ended, what it took.

    Parameters
    ----------
    best
        The best patterns found; an answer always exists, a greedy one at least.
    cost
        Cost of ``best``.
    bound
        Proven lower bound on the cost of any plan that leaves no more unplaced.
    short, short_bound
        Length of pieces that ``best`` leaves out for want of stock, and the least that any plan must
        leave out, nanometres.
    """

    best: Packing
    cost: int
    bound: int
    ended: StopReason
    report: SolverReport
    certificate: Certificate | None = None
    short: int = 0
    short_bound: int = 0

    @property
    def proved(self) -> bool:
        """Whether no plan leaves less out, and none that leaves no more out is cheaper."""
        return self.bound >= self.cost and self.short_bound >= self.short
