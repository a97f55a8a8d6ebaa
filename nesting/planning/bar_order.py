"""The order of a group's bars: what is urgent first, then so that few units are open at once."""

from __future__ import annotations

from collections import Counter, defaultdict, deque
from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from itertools import accumulate, groupby

from nesting.domain.goals import GoalPrice
from nesting.domain.packing import Packing, PatternUse
from nesting.domain.pieces import Piece
from nesting.domain.plan import PlannedBar
from nesting.planning.assemble import cutting_order
from nesting.planning.gangs import gangs
from nesting.planning.group import Group
from nesting.planning.open_units import OpenUnits, most_open, order_for_open_units
from nesting.planning.urgency import Ranks, rank_of

Blocks = tuple[PatternUse, ...]
"""Bars of one pattern that are cut at once, or one bar each, in cutting order."""
_MOST_ROUNDS = 3
# Steps of one search for an order, times the units; each step looks at all units a few times.
_MOST_WORK = 200_000


@dataclass(frozen=True, slots=True)
class BarOrder:
    """
    A group's bars in the order in which they are cut.

    Parameters
    ----------
    group
        With its pieces in the order in which the bars free them.
    blocks
        The bars.
    goals
        What was asked for of their order, and what became of it.
    """

    group: Group
    blocks: Blocks
    goals: tuple[GoalPrice, ...] = ()


def order_bars(group: Group, packing: Packing, *, ranks: Ranks, cost: int) -> BarOrder:
    """
    Order the bars of a packing as the group's goals ask.

    Without any, offcuts come first, then new bars, longest first. Where some runs are more urgent, the
    bars that give most of their length come first, rank by rank. For few open units the bars of each
    rank change places, and the pieces of one length are handed out anew; neither costs a bar.

    Parameters
    ----------
    ranks
        Of the runs; 0 is the most urgent.
    cost
        Of the bars, for the prices.
    """
    if group.mitre is not None:
        return BarOrder(group, cutting_order(group, packing))  # their bars come as they were laid
    goals: list[GoalPrice] = []
    plain = _blocks(cutting_order(group, packing), group.goals.gang)
    own = sorted({rank_of(piece, ranks) for piece in group.pieces})
    parts: tuple[Blocks, ...] = (plain,)
    if len(own) > 1:
        parts = _urgent_first(group, plain, ranks)
        goals.append(_urgency_price(group, plain, _flat(parts), ranks, cost))
    if group.goals.open_units:
        group, parts, price = _few_open(group, parts, cost)
        goals.append(price)
    return BarOrder(group, _flat(parts), tuple(goals))


def order_laid(
    bars: Sequence[PlannedBar], group: Group, *, ranks: Ranks, cost: int, tag_prefix: str
) -> tuple[tuple[PlannedBar, ...], tuple[GoalPrice, ...]]:
    """
    Order bars whose pieces are laid already, as mitred ones are: they change places whole.

    Bars of the most urgent pieces come first, then gangs stay together and few units open; the bars
    are numbered anew. Their patterns are left as they are, and told so where fewer were asked for.
    """
    goals: list[GoalPrice] = []
    pieces = {piece.id: piece for piece in group.pieces}
    rank = {bar.number: min(rank_of(pieces[cut.piece], ranks) for cut in bar.cuts) for bar in bars}
    own = sorted({rank_of(piece, ranks) for piece in group.pieces})

    def price(goal: str, before: int, after: int) -> GoalPrice:
        return GoalPrice(goal=goal, cost_before=cost, cost_after=cost, value_before=before, value_after=after)

    if group.goals.fewer_patterns:
        count = len({(bar.source, tuple(sorted(cut.length for cut in bar.cuts))) for bar in bars})
        goals.append(price("patterns", count, count))
    first = tuple(sorted(bars, key=lambda bar: rank[bar.number]))
    if len(own) > 1:
        before, after = (
            max((n for n, bar in enumerate(order, 1) if rank[bar.number] == own[0]), default=0)
            for order in (bars, first)
        )
        goals.append(price("bars until the urgent are cut", before, after))
    order = first
    if group.goals.open_units:
        moved: list[PlannedBar] = []
        for _, part in groupby(first, key=lambda bar: rank[bar.number]):
            blocks = gangs(tuple(part), group.goals.gang)
            units = [{unit_of(pieces[cut.piece]) for bar in block for cut in bar.cuts} for block in blocks]
            moved += [bar for i in order_within_work(units).order for bar in blocks[i]]
        before, after = most_open_of(first, group.pieces), most_open_of(moved, group.pieces)
        order = tuple(moved) if after < before else first
        goals.append(price("most open units", before, min(before, after)))
    start = min((bar.number for bar in bars), default=1)
    numbered = tuple(
        replace(bar, number=number, tail_tag=f"{tag_prefix}-{number}" if bar.tail_tag else "")
        for number, bar in enumerate(order, start)
    )
    return numbered, tuple(goals)


def unit_of(piece: Piece) -> str:
    """Give the unit a piece goes to, by job, building and floor; pieces without one share one a floor."""
    place = piece.place
    return "\x1f".join((piece.job, place.building, place.floor, place.unit))


def most_open_of(bars: Sequence[PlannedBar], pieces: Sequence[Piece]) -> int:
    """Give the most units that are half finished at once when some bars are cut in their order."""
    units = {piece.id: unit_of(piece) for piece in pieces}
    return most_open([{units[cut.piece] for cut in bar.good_cuts} for bar in bars])


def _blocks(uses: Sequence[PatternUse], gang: int) -> Blocks:
    """Divide the bars into what is clamped at once."""
    return tuple(
        replace(use, times=min(gang, use.times - first))
        for use in uses
        for first in range(0, use.times, gang)
    )


def _flat(parts: Sequence[Blocks]) -> Blocks:
    return tuple(block for part in parts for block in part)


def _urgent_first(group: Group, blocks: Blocks, ranks: Ranks) -> tuple[Blocks, ...]:
    """Give the blocks rank by rank: those that free most of what the rank still lacks come first."""
    lengths = group.problem.lengths
    place = {length: i for i, length in enumerate(lengths)}
    wanted: defaultdict[int, Counter[int]] = defaultdict(Counter)
    for piece in group.pieces:
        wanted[rank_of(piece, ranks)][place[piece.length]] += 1
    waiting: dict[PatternUse, int] = dict(Counter(blocks))
    freed: Counter[int] = Counter()
    so_far: Counter[int] = Counter()
    parts: list[Blocks] = []
    for rank in sorted(wanted)[:-1]:
        so_far.update(wanted[rank])
        part: list[PatternUse] = []
        while waiting:
            lacking = {i: n - freed[i] for i, n in so_far.items() if n > freed[i]}
            best = max(
                waiting,
                key=lambda block: sum(
                    lengths[i] * min(n * block.times, lacking.get(i, 0)) for i, n in block.pieces
                ),
            )
            if not any(i in lacking for i, _ in best.pieces):
                break
            part.append(best)
            freed.update({i: n * best.times for i, n in best.pieces})
            waiting[best] -= 1
            if not waiting[best]:
                del waiting[best]
        parts.append(tuple(part))
    parts.append(tuple(block for block, times in waiting.items() for _ in range(times)))
    return tuple(part for part in parts if part)


def _handed_out(group: Group, blocks: Blocks) -> list[list[list[Piece]]]:
    """Give the pieces of each bar of each block, one length's pieces in the group's order."""
    queues: dict[int, deque[Piece]] = defaultdict(deque)
    for piece in group.pieces:
        queues[piece.length].append(piece)
    return [
        [
            [queues[group.problem.lengths[i]].popleft() for i, n in block.pieces for _ in range(n)]
            for _ in range(block.times)
        ]
        for block in blocks
    ]


def _urgency_price(group: Group, before: Blocks, after: Blocks, ranks: Ranks, cost: int) -> GoalPrice:
    """Tell after how many bars the most urgent pieces are all cut; both ways they are handed out first."""
    first = min(rank_of(piece, ranks) for piece in group.pieces)

    def last(blocks: Blocks) -> int:
        bars = [bar for block in _handed_out(group, blocks) for bar in block]
        return max(
            (n for n, bar in enumerate(bars, 1) if any(rank_of(piece, ranks) == first for piece in bar)),
            default=0,
        )

    return GoalPrice(
        goal="bars until the urgent are cut",
        cost_before=cost,
        cost_after=cost,
        value_before=last(before),
        value_after=last(after),
    )


def _few_open(
    group: Group, parts: tuple[Blocks, ...], cost: int
) -> tuple[Group, tuple[Blocks, ...], GoalPrice]:
    """Let blocks change places within their rank, then hand the pieces out anew, as long as that helps."""
    best = now = given = _Sequence(group, parts)
    for _ in range(_MOST_ROUNDS):
        moved = now.moved()
        again = _Sequence(group, moved.parts)
        best = min(best, moved, again, key=lambda sequence: sequence.most_open)
        if again.most_open >= now.most_open:
            break
        now = again
    single = all(block.times == 1 for part in best.parts for block in part)
    price = GoalPrice(
        goal="most open units",
        cost_before=cost,
        cost_after=cost,
        value_before=given.most_open,
        value_after=best.most_open,
        # A gang's bars may not part, so what is proved for gangs says nothing of single bars.
        lower_bound=order_within_work(best.units()).lower_bound if single else None,
    )
    return best.group, best.parts, price


class _Sequence:
    """Blocks in an order, with the pieces each of their bars frees."""

    def __init__(self, group: Group, parts: tuple[Blocks, ...]) -> None:
        self.group, self.parts = group, parts
        self._held = _handed_out(group, _flat(parts))
        self.most_open = most_open([_units(bar) for block in self._held for bar in block])

    def units(self) -> list[frozenset[str]]:
        """Give the units of each block."""
        return [frozenset(unit for bar in block for unit in _units(bar)) for block in self._held]

    def moved(self) -> _Sequence:
        """Give the blocks of each part in the order that keeps the fewest units open, pieces and all."""
        ends = list(accumulate(len(part) for part in self.parts))
        units = self.units()
        parts: list[Blocks] = []
        pieces: list[Piece] = []
        for part, end in zip(self.parts, ends, strict=True):
            start = end - len(part)
            order = order_within_work(units[start:end]).order
            parts.append(tuple(part[i] for i in order))
            pieces += [piece for i in order for bar in self._held[start + i] for piece in bar]
        freed = {piece.id for piece in pieces}
        pieces += [piece for piece in self.group.pieces if piece.id not in freed]
        return _Sequence(replace(self.group, pieces=tuple(pieces)), tuple(parts))


def order_within_work(bars: Sequence[Collection[str]], begun: Collection[str] = ()) -> OpenUnits:
    """
    Search for an order with few open units for as long as a plan may take for that, on every machine alike.

    Parameters
    ----------
    bars, begun
        As in `order_for_open_units`.
    """
    units = len({unit for bar in bars for unit in bar})
    return order_for_open_units(bars, max_nodes=_MOST_WORK // max(units, 1), begun=begun)


def _units(bar: Sequence[Piece]) -> frozenset[str]:
    return frozenset(unit_of(piece) for piece in bar)
