"""Random draws of the search for fewer patterns: whole numbers, so that a seed repeats a plan anywhere."""

from __future__ import annotations

from nesting.solver.fewer_patterns_machine_code import machine_code
from nesting.solver.kernel import Ints

DRAWS = 8
"""Patterns drawn at most for each place of a round."""
_MODULUS = 2147483647  # Park and Miller (1988): x -> 48271 x mod (2**31 - 1), from memory


@machine_code()
def below(state: Ints, n: int) -> int:
    """
    Draw a number in 0..n-1.

    Parameters
    ----------
    state
        Where the sequence stands, shape ``(1,)``; 1 to 2**31 - 2 to begin with.
    """
    state[0] = state[0] * 48271 % _MODULUS
    return state[0] % n  # type: ignore[no-any-return]


@machine_code()
def draw_patterns(patterns: Ints, kinds: Ints, count: int, state: Ints, drawn: Ints, held: Ints) -> int:
    """
    Draw the patterns of one round: one, then others, each of a few the one with most lengths in common.

    Parameters
    ----------
    patterns, kinds
        The plan, shape ``(p, m)`` and ``(p,)``; the first ``count`` rows are in use.
    drawn
        Filled with their rows, by kind of bar; shape ``(5,)``.
    held
        Room for a count of each length, shape ``(m,)``.

    Returns
    -------
    int
        Number of patterns drawn: 2 to 5, or all there are.
    """
    m = patterns.shape[1]
    draw = below(state, 100)
    k = min(count, 2 if draw < 15 else 3 if draw < 55 else 4 if draw < 85 else 5)
    drawn[0] = below(state, count)
    for i in range(m):
        held[i] = patterns[drawn[0], i]
    for chosen in range(1, k):
        most = -1
        for _ in range(1 + below(state, DRAWS)):
            p = below(state, count)
            again = True
            while again:
                again = False
                for q in range(chosen):
                    if drawn[q] == p:
                        again = True
                        p = (p + 1) % count
            common = 0
            for i in range(m):
                common += patterns[p, i] > 0 and held[i] > 0
            if common > most:
                most = common
                drawn[chosen] = p
        for i in range(m):
            held[i] += patterns[drawn[chosen], i]
    for q in range(1, k):
        r = q
        while r > 0 and kinds[drawn[r - 1]] > kinds[drawn[r]]:
            drawn[r - 1], drawn[r] = drawn[r], drawn[r - 1]
            r -= 1
    return k
