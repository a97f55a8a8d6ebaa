"""What the shop reports of a plan: bar by bar, in a few words and measurements."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise

from nesting.domain.made import Span
from nesting.errors import NOWHERE, ProblemError, Where
from nesting.units import Length


class Outcome(StrEnum):
    """What became of a bar; a bar that nobody reports is still open."""

    DONE = "done"
    STOPPED = "stopped"
    FROZEN = "frozen"
    NOT_FOUND = "not found"


@dataclass(frozen=True, slots=True)
class Miscut:
    """
    A piece that came out wrong.

    Parameters
    ----------
    length
        What came out, too short or too long, measured along its shortest side; None when nothing of
        it can be used, or when it was not cut at all.
    """

    piece: str
    length: Length | None = None

    def __post_init__(self) -> None:
        """Refuse pieces of no length."""
        if self.length is not None and self.length <= 0:
            raise ProblemError(f"Piece {self.piece!r}: what came out is longer than zero, or left out.")


@dataclass(frozen=True, slots=True, kw_only=True)
class BarReport:
    """
    One bar.

    Parameters
    ----------
    bar
        Its number in the plan.
    tail
        Measured tail, for a stopped bar without damage what was left of it; None when not measured.
    made
        Cuts made before the bar was stopped; of a done bar all its cuts, or 0 where nobody counted.
    short
        Whether the bar itself was shorter than it should be, so that its tail is.
    miscuts
        Pieces that came out wrong.
    defects
        Damaged stretches of a stopped bar, measured from the end that leads at the saw.
    """

    bar: int
    outcome: Outcome
    tail: Length | None = None
    made: int = 0
    miscuts: tuple[Miscut, ...] = ()
    defects: tuple[Span, ...] = ()
    short: bool = False
    where: Where = NOWHERE

    def __post_init__(self) -> None:
        """Refuse what contradicts itself."""
        name, outcome = f"Bar {self.bar}", self.outcome
        if self.tail is not None and self.tail < 0:
            raise ProblemError(f"{name}: a tail is not shorter than nothing.")
        if self.made < 0:
            raise ProblemError(f"{name}: the number of cuts made is negative.")
        if self.made and outcome not in (Outcome.STOPPED, Outcome.DONE):
            raise ProblemError(f"{name}: nothing is cut from a bar that is {outcome.value}.")
        if self.short and (outcome is not Outcome.DONE or self.tail is None):
            raise ProblemError(f"{name}: a bar that was short is reported done, with the tail it left.")
        if self.defects and outcome is not Outcome.STOPPED:
            raise ProblemError(
                f"{name}: a damaged bar is stopped; report it as stopped, with the cuts made until then."
            )
        if self.defects and self.tail is not None:
            raise ProblemError(f"{name}: with damage reported, its clear stretches are worked out from that.")
        if outcome in (Outcome.FROZEN, Outcome.NOT_FOUND) and (self.miscuts or self.tail is not None):
            raise ProblemError(f"{name}: nothing is cut from a bar that is {outcome.value}.")
        spans = sorted(self.defects)
        if any(first.end > second.start for first, second in pairwise(spans)):
            raise ProblemError(f"{name}: damaged stretches overlap; give them as one.")
        twice = [piece for piece, n in Counter(m.piece for m in self.miscuts).items() if n > 1]
        if twice:
            raise ProblemError(f"{name}: piece {twice[0]!r} is reported twice.")


@dataclass(frozen=True, slots=True, kw_only=True)
class ShopReport:
    """
    Everything the shop reports at one time.

    Parameters
    ----------
    plan
        Id of the plan it was cut by; empty when the report does not say.
    lost
        Tags of offcuts that were looked for and not found, beside those of reported bars; tails that
        the reported bars bear may be among them.
    """

    plan: str = ""
    bars: tuple[BarReport, ...] = ()
    lost: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        """Refuse two reports of one bar."""
        twice = [bar for bar, n in Counter(one.bar for one in self.bars).items() if n > 1]
        if twice:
            raise ProblemError(f"Bar {twice[0]} is reported twice.")
