"""
Plans bar by bar, each filled as well as can be, over and over with corrected values.

Pieces that ended up on badly filled bars gain in value, so that the next plan uses them sooner
(sequential value correction; Mukhacheva et al., 2000, and Belov and Scheithauer, 2007, INFORMS J.
Comput. 19). It gives wide groups a plan within a bar or two of the best long before their linear
programme is solved.
"""

from __future__ import annotations

from random import Random

import numpy as np

from nesting.solver.columns import Pattern
from nesting.solver.kernel import Floats
from nesting.solver.pricing import Pricer
from nesting.solver.rounding import Rest, merge
from nesting.solver.search import Search

FAVOUR = 1.02
"""Power of the size that a piece's value starts from: longer pieces are placed sooner."""


def fill_bar_by_bar(search: Search, pricer: Pricer, *, plans: int, seed: int) -> None:
    """
    Offer ``plans`` plans; each bar takes the longest open piece and the most valuable pieces beside it.

    Parameters
    ----------
    plans
        Plans made at most; fewer when one is proved least.
    seed
        Draws how fast values are corrected.
    """
    reduced = search.reduced
    draw = Random(seed)
    sizes = np.array(reduced.sizes, np.float64)
    values = sizes**FAVOUR
    for _ in range(plans):
        rest = Rest.all_of(reduced)
        while not rest.empty:
            search.poll()
            pattern, waste = _next_bar(search, pricer, rest, values)
            if pattern is None:
                break
            times = max(rest.room_for(pattern), 1)
            rest.fix(reduced, pattern, times)
            fresh = sizes**FAVOUR * (1.0 + waste)
            for i, n in pattern.pieces:
                pace = n * times / (n * times + draw.uniform(1.0, 3.0) * (rest.demands[i] + n * times))
                values[i] = (1.0 - pace) * values[i] + pace * fresh[i]
        search.offer(merge(rest.fixed))
        if search.proved:
            return


def _next_bar(search: Search, pricer: Pricer, rest: Rest, values: Floats) -> tuple[Pattern | None, float]:
    """Give the fullest bar for its cost that holds the longest open piece, and the share it wastes."""
    reduced = search.reduced
    longest = next(i for i, n in enumerate(rest.demands) if n)
    size = reduced.sizes[longest]
    limits = np.array(rest.demands, np.int64)
    limits[longest] -= 1
    best: tuple[float, Pattern, float] | None = None
    for k, kind in enumerate(reduced.kinds):
        if kind.capacity < size or rest.supplies[k] == 0:
            continue
        [answer] = pricer.price(values, limits, [kind.capacity - size], [0.0], exact=False)
        counts = dict(answer.pieces)
        counts[longest] = counts.get(longest, 0) + 1
        filled = sum(reduced.sizes[i] * n for i, n in counts.items())
        dearness = kind.cost / filled
        if best is None or dearness < best[0]:
            waste = (kind.capacity - filled) / kind.capacity
            best = (dearness, Pattern(k, tuple(sorted(counts.items()))), waste)
    return (None, 0.0) if best is None else (best[1], best[2])
