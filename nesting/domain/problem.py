"""One material group as the solver sees it: lengths, counts, bars, kerf. Valid once built."""

from __future__ import annotations

from dataclasses import dataclass

from nesting.errors import ProblemError
from nesting.units import NO_LENGTH, Length


@dataclass(frozen=True, slots=True, kw_only=True)
class BarKind:
    """
    Bars that are alike in everything the solver cares about.

    Parameters
    ----------
    key
        Unique in the problem: a stock line's key or an offcut's tag.
    length, head, tail
        Bar length, head trim (h) and tail loss (e), nanometres.
    cost
        What opening one bar costs, in the objective's whole units (money, or 1 a bar).
    count
        Bars of this kind at hand; None when unlimited.
    offcut
        Whether it comes from the rack.
    """

    key: str
    length: Length
    head: Length = NO_LENGTH
    tail: Length = NO_LENGTH
    cost: int = 1
    count: int | None = None
    offcut: bool = False

    @property
    def usable(self) -> Length:
        """Longest single piece it gives: L - h - e."""
        return Length(self.length - self.head - self.tail)


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """
    Cut ``counts[i]`` pieces of ``lengths[i]`` from the bars at least cost.

    Pieces a_1..a_n fit a bar when h + sum(a) + (n - 1) k + e <= L, the same as
    sum(a + k) <= L - h - e + k. Among plans of one cost, less scrap is better: the tail of a bar,
    r - k with r = L - h - sum(a) - (n - 1) k, is scrap when shorter than ``keep_length``.

    Parameters
    ----------
    lengths
        Distinct piece lengths, longest first, shape ``(m,)``, nanometres.
    counts
        Pieces of each length, shape ``(m,)``, at least 1.
    bars
        Kinds of bar, each longer than the shortest piece.
    """

    name: str = ""
    lengths: tuple[Length, ...]
    counts: tuple[int, ...]
    bars: tuple[BarKind, ...]
    kerf: Length = NO_LENGTH
    keep_length: Length = NO_LENGTH

    def __post_init__(self) -> None:
        """Refuse what no solver could mean."""
        if len(self.lengths) != len(self.counts):
            raise ProblemError("As many counts as lengths are needed.")
        if list(self.lengths) != sorted(set(self.lengths), reverse=True):
            raise ProblemError("Lengths must be distinct and longest first.")
        if any(length <= 0 for length in self.lengths) or any(n < 1 for n in self.counts):
            raise ProblemError("Lengths and counts must be more than zero.")
        if len({bar.key for bar in self.bars}) != len(self.bars):
            raise ProblemError("Two kinds of bar share a key.")
        if any(bar.cost < 0 or (bar.count is not None and bar.count < 0) for bar in self.bars):
            raise ProblemError("Costs and counts of bars must not be negative.")
        if any(bar.head < 0 or bar.tail < 0 for bar in self.bars) or self.kerf < 0:
            raise ProblemError("Kerf and trims must not be negative.")
        longest = max((bar.usable for bar in self.bars), default=0)
        if self.lengths and self.lengths[0] > longest:
            raise ProblemError("The longest piece fits no bar; report it as unplaced before solving.")
