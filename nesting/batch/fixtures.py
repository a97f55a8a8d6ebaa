"""Whole fixtures first: where bars run out, no piece is cut for a fixture that cannot be finished."""

from __future__ import annotations

import time
from collections import defaultdict
from collections.abc import Callable, Sequence, Set
from dataclasses import dataclass

from nesting.batch.pool import Limits
from nesting.batch.split import Split
from nesting.batch.watch import Flag
from nesting.domain.material import Material
from nesting.domain.pieces import Piece
from nesting.planning.settle import Settled
from nesting.planning.urgency import NO_RANKS, Ranks, rank_of

MOST_TRIALS = 24

Fixture = tuple[str, str, int]
Chains = list[tuple[Settled, ...]]
Solve = Callable[[Sequence[Piece]], tuple[Split, Chains]]


@dataclass(frozen=True, slots=True)
class Made:
    """
    What can be made of the bars at hand.

    Parameters
    ----------
    parts, chains
        Groups and results for the pieces that are cut.
    left_out
        Pieces of fixtures that the bars cannot finish.
    """

    parts: Split
    chains: Chains
    left_out: tuple[Piece, ...]


def whole_fixtures(
    pieces: Sequence[Piece], solve: Solve, limits: Limits, cancel: Flag, ranks: Ranks = NO_RANKS
) -> Made:
    """
    Solve for all pieces; where bars run out, finish as many fixtures as possible and leave out the rest.

    More urgent fixtures are served before any others, pieces that stand alone among them.

    The fixtures that want bars of a material that has run out compete. Those of least metal come
    first: as many of them as fit, found by bisection, then at most ``MOST_TRIALS`` of the others, one
    by one, fewer when time is up. Another choice might finish one more; the plan never cuts a piece
    for a fixture that stays unfinished.

    Parameters
    ----------
    solve
        Splits some pieces into groups and solves them.
    ranks
        Of the runs; 0 is the most urgent.
    """
    until = None if limits.seconds is None else time.monotonic() + limits.seconds / 2
    parts, chains = solve(pieces)
    fixtures: defaultdict[Fixture, list[Piece]] = defaultdict(list)
    for piece in pieces:
        fixtures[fixture_of(piece)].append(piece)
    short = _short(chains)
    scarce = {piece.material for piece in short}
    # Materials that draw on the same bars have gone without for one another.
    linked = {m for materials in map(_materials, chains) if materials & scarce for m in materials}
    rivals = [rank_of(piece, ranks) for piece in pieces if piece.material in linked]
    unfair = bool(short) and min(rank_of(piece, ranks) for piece in short) < max(rivals)
    if all(len(fixtures[fixture_of(piece)]) == 1 for piece in short) and not unfair:
        return Made(parts, chains, ())
    if unfair:
        scarce = linked
    competing = sorted(
        {fixture_of(piece) for piece in pieces if piece.material in scarce},
        key=lambda fixture: (
            ranks.get(fixture[:2], 0),
            sum(piece.length for piece in fixtures[fixture]),
            fixture,
        ),
    )
    kept = set(fixtures) - set(competing)

    def attempt(wanted: Sequence[Fixture]) -> bool:
        """Take the wanted fixtures along when the bars finish them all."""
        nonlocal kept, parts, chains
        trial = kept | set(wanted)
        trial_parts, trial_chains = solve([piece for piece in pieces if fixture_of(piece) in trial])
        if fits := not _short(trial_chains):
            kept, parts, chains = trial, trial_parts, trial_chains
        return fits

    def stopped() -> bool:
        return cancel.is_set() or (until is not None and time.monotonic() > until)

    def as_many_from(low: int) -> int:
        """Take as many along, from one on in their order, as fit; give the first that did not."""
        high = len(competing)
        while high - low > 1 and not stopped():
            middle = (low + high) // 2
            if attempt(competing[low:middle]):
                low = middle
            else:
                high = middle
        return low

    attempt(())
    low = as_many_from(0)
    if unfair:
        # One that no bars are left for must not keep all the less urgent ones from theirs.
        for _ in range(MOST_TRIALS):
            if low >= len(competing) or stopped() or attempt(competing[low:]):
                break
            attempt(competing[low : low + 1])
            low = as_many_from(low + 1)
        return Made(parts, chains, _left_out(pieces, kept))
    for fixture in competing[low : low + MOST_TRIALS]:
        if stopped():
            break
        attempt([fixture])
    return Made(parts, chains, _left_out(pieces, kept))


def _left_out(pieces: Sequence[Piece], kept: Set[Fixture]) -> tuple[Piece, ...]:
    return tuple(piece for piece in pieces if fixture_of(piece) not in kept)


def _materials(chain: tuple[Settled, ...]) -> set[Material]:
    return {one.group.material for one in chain}


def fixture_of(piece: Piece) -> Fixture:
    """Give the fixture a piece is for: job, run and which of its like ones."""
    return piece.job, piece.run, piece.copy


def _short(chains: Chains) -> list[Piece]:
    """Give the pieces the bars could not give: the last of their length in the building's order."""
    lacking: list[Piece] = []
    for one in (settled for chain in chains for settled in chain):
        problem = one.group.problem
        for length, number in zip(problem.lengths, one.result.best.short, strict=True):
            if number:
                lacking.extend([piece for piece in one.group.pieces if piece.length == length][-number:])
    return lacking
