"""The pool of columns: every pattern met so far, as compressed arrays the kernel can read."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

Pieces = tuple[tuple[int, int], ...]
"""Pairs (index of the length, how many), index ascending."""


@dataclass(frozen=True, slots=True)
class Pattern:
    """
    One way to fill one bar.

    Parameters
    ----------
    kind
        Index into ``Reduced.kinds``.
    pieces
        What it holds.
    """

    kind: int
    pieces: Pieces


class Pool:
    """
    Growing list of columns over a fixed number of rows.

    Attributes
    ----------
    patterns
        The pattern behind each column; None for a slack, a surplus or a piece left out.
    starts, rows, entries, costs
        Compressed columns, as ``kernel_simplex`` reads them; only the first ``size`` are in use.
    """

    def __init__(self) -> None:
        self.patterns: list[Pattern | None] = []
        self.starts = np.zeros(1025, np.int64)
        self.rows = np.zeros(8192, np.int64)
        self.entries = np.zeros(8192, np.float64)
        self.costs = np.zeros(1024, np.float64)
        self._places: dict[Pattern, int] = {}

    def __len__(self) -> int:
        return len(self.patterns)

    def add(self, pattern: Pattern | None, column: Pieces, cost: float) -> int:
        """Add a column unless its pattern is there already; give its number."""
        if pattern is not None:
            known = self._places.setdefault(pattern, len(self.patterns))
            if known < len(self.patterns):
                return known
        number = len(self.patterns)
        start = int(self.starts[number])
        if number == len(self.costs):
            self.starts = np.concatenate([self.starts, np.zeros(number, np.int64)])
            self.costs = np.concatenate([self.costs, np.zeros(number)])
        while start + len(column) > len(self.rows):
            self.rows = np.concatenate([self.rows, np.zeros_like(self.rows)])
            self.entries = np.concatenate([self.entries, np.zeros_like(self.entries)])
        for offset, (row, entry) in enumerate(column):
            self.rows[start + offset] = row
            self.entries[start + offset] = entry
        self.starts[number + 1] = start + len(column)
        self.costs[number] = cost
        self.patterns.append(pattern)
        return number
