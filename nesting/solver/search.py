"""The state every step shares: best plan, proven bound, and when to stop."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from time import perf_counter

from nesting.domain.progress import Progress, StopReason
from nesting.solver.columns import Pattern
from nesting.solver.observe import Observer
from nesting.solver.reduce import Reduced
from nesting.stop import Stop

Plan = tuple[tuple[Pattern, int], ...]
"""Patterns and how often each is cut."""


class Stopped(Exception):
    """Unwinds the steps when the stop criterion has given a reason."""

    def __init__(self, why: StopReason) -> None:
        self.why = why
        super().__init__(why.value)


@dataclass(frozen=True, slots=True)
class Worth:
    """How good a plan is, smaller is better: weight left out first, then cost."""

    short: int
    cost: int

    def better_than(self, other: Worth) -> bool:
        """Whether this plan is to be preferred."""
        return (self.short, self.cost) < (other.short, other.cost)


class Search:
    """
    One group's search.

    Attributes
    ----------
    reduced
        The group in small whole numbers.
    plan, worth
        Best plan so far.
    bound
        Proven lower bound on the cost of a plan that leaves out no more than ``short_bound``.
    short_bound
        Proven lower bound on the weight left out.
    rounds
        Pricing rounds so far.
    """

    def __init__(
        self,
        name: str,
        reduced: Reduced,
        *,
        stop: Stop,
        observer: Observer,
        clock: Callable[[], float] = perf_counter,
    ) -> None:
        self.reduced = reduced
        self.plan: Plan = ()
        self.worth = measure(reduced, ())
        self.bound = 0
        self.short_bound = 0
        self.rounds = 0
        self.phase = "start"
        self._name = name
        self._stop = stop
        self._observer = observer
        self._clock = clock
        self._began = clock()

    @property
    def elapsed(self) -> float:
        """Seconds since the start."""
        return self._clock() - self._began

    @property
    def proved(self) -> bool:
        """Whether no better plan exists."""
        return self.worth.short <= self.short_bound and self.worth.cost <= self.bound

    def now(self) -> Progress:
        """Give a snapshot in the units of the reduced group."""
        unit = self.reduced.cost_unit
        return Progress(
            group=self._name,
            phase=self.phase,
            best=self.worth.cost * unit,
            bound=self.bound * unit,
            short=self.worth.short * self.reduced.weight_unit,
            rounds=self.rounds,
            elapsed=self.elapsed,
        )

    def enter(self, phase: str) -> None:
        """Begin a step of the recipe."""
        self.phase = phase
        self._observer.on_progress(self.now())
        self.poll()

    def poll(self) -> None:
        """
        Ask the stop criterion.

        Raises
        ------
        Stopped
            When it gives a reason.
        """
        if (why := self._stop(self.now())) is not None:
            raise Stopped(why)

    def stopping(self) -> bool:
        """Whether the criterion would stop now; for threads that must not raise."""
        return self._stop(self.now()) is not None

    def within_stop(self) -> Stop:
        """Give the criterion for a search inside this one, whose seconds count from this one's start."""
        began = self.elapsed
        return lambda now: self._stop(
            replace(self.now(), elapsed=began + now.elapsed, rounds=self.rounds + now.rounds)
        )

    def offer(self, plan: Plan) -> bool:
        """Keep ``plan`` when it is better; say whether it was."""
        worth = measure(self.reduced, plan)
        if not worth.better_than(self.worth):
            return False
        self.plan, self.worth = plan, worth
        self._observer.on_progress(self.now())
        return True

    def prove(self, bound: int) -> None:
        """Raise the proven bound."""
        if bound > self.bound:
            self.bound = bound
            self._observer.on_progress(self.now())


def measure(reduced: Reduced, plan: Plan) -> Worth:
    """Give the worth of a plan; more pieces than asked for do no harm."""
    left = list(reduced.demands)
    cost = 0
    for pattern, times in plan:
        cost += reduced.kinds[pattern.kind].cost * times
        for length, count in pattern.pieces:
            left[length] -= count * times
    short = sum(reduced.weights[i] * max(n, 0) for i, n in enumerate(left))
    return Worth(short, cost)
