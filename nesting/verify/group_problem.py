"""The problem a group of a plan had to solve, set out again from the plan alone."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

from nesting.domain.goals import Slivers
from nesting.domain.material import LotRule
from nesting.domain.pieces import Piece
from nesting.domain.plan import GroupPlan, Plan
from nesting.domain.problem import BarKind, Problem
from nesting.domain.request import Request
from nesting.domain.stock import EndState, StockLine
from nesting.errors import ProblemError
from nesting.units import NO_LENGTH, Length
from nesting.verify.bill import Bills, lines_of, lowest_price, may_take_from_shelf, offcut_charge
from nesting.verify.supply import covers_on_offer, family_follows

_NEVER_ASKED = frozenset({"too-long", "mitre-planes", "only-with-sliver"})


def problem_of(plan: Plan, group: GroupPlan, *, shelf_apart: bool = False) -> Problem:
    """
    Give a group's problem as the certificate counts it.

    Bar kinds: the request's stock lines of the material in their order, then the offcuts that may
    serve it in theirs. Limited bars count what the groups before this one have left.

    Parameters
    ----------
    shelf_apart
        Whether bars on hand that need no cover bar are kinds of their own, behind all others, in the order
        of their lines; else every bar of a line counts at the least that one of them costs.

    Raises
    ------
    ProblemError
        When the group's cost is money but a bar it could use has no price, or no piece fits a bar.
    """
    used = _used_before(plan, group)
    new, shelf = _new_bars(plan.request, group, used, shelf_apart=shelf_apart)
    left = (*new, *_offcuts(plan.request, group, used), *shelf)
    forbidden = plan.request.goals.slivers is Slivers.FORBID and group.mitre is None
    own = {piece.length for piece in plan.pieces if piece.material == group.material}
    given = {a for a in own if any(_gives(bar, a, group.saw.kerf, forbidden) for bar in left)}
    # A fixture that the bars cannot finish was taken out of the problem as a whole.
    unfinished = {unplaced.piece for unplaced in plan.unplaced if unplaced.code == "fixture-short"}
    # A mitred piece counts by its centre line; whether it fits a bar is a matter of its tips.
    unfinished |= {unplaced.piece for unplaced in plan.unplaced if unplaced.code in _NEVER_ASKED}
    counts = Counter(
        _counted(piece)
        for piece in plan.pieces
        if piece.material == group.material and piece.length in given and piece.id not in unfinished
    )
    lengths = tuple(sorted(counts, reverse=True))
    return Problem(
        name=str(group.material),
        lengths=lengths,
        counts=tuple(counts[length] for length in lengths),
        bars=left,
        kerf=group.saw.kerf,
        keep_length=group.saw.keep_length,
    )


def _gives(bar: BarKind, length: int, kerf: int, forbidden: bool) -> bool:
    """Tell whether a bar gives one piece, without a sliver behind it where these are forbidden."""
    behind = bar.length - bar.head - length
    return behind >= bar.tail and not (forbidden and 0 < behind < kerf)


def _least_rest(request: Request, tail: Length, kerf: Length) -> Length:
    """
    Give what must stand behind the last piece of a bar.

    Where slivers are forbidden that is a kerf, except on bars that may come out exactly: their
    patterns are the ones allowed with slivers, so that what is proved for these holds all the more.
    """
    forbidden = request.goals.slivers is Slivers.FORBID
    return max(tail, kerf) if forbidden and tail else tail


def _counted(piece: Piece) -> Length:
    """Give the length a piece counts with: a mitred one's centre line down to 0.01 mm."""
    if piece.long_point is None:
        return piece.length
    return Length(piece.length - piece.length % 10_000)


def length_left_out(plan: Plan, group: GroupPlan) -> int:
    """Give the length of the group's pieces that fit a bar but were left out for want of stock."""
    fits = set(problem_of(plan, group).lengths)
    left_out = {
        unplaced.piece for unplaced in plan.unplaced if unplaced.piece and unplaced.code != "fixture-short"
    }
    return sum(
        piece.length
        for piece in plan.pieces
        if piece.material == group.material and piece.id in left_out and _counted(piece) in fits
    )


def _position(plan: Plan, group: GroupPlan) -> int:
    return next((i for i, other in enumerate(plan.groups) if other.material == group.material), 0)


def _used_before(plan: Plan, group: GroupPlan) -> Counter[str]:
    """Count what the groups before this one take from each stock line and offcut, covers included."""
    used: Counter[str] = Counter()
    earlier = plan.groups[: _position(plan, group)]
    if not earlier:
        return used
    bills = Bills(plan)
    for other in earlier:
        used.update(bar.source for bar in other.bars if not lines_of(plan.request, other, bar.source))
        for key in bills.of(other):
            # What was ordered to fill a pack is gone as well.
            used[f"stock:{key[1]}"] += max(bills.positions[key].bars, 0)
    return used


def _cover_key(request: Request, cover: StockLine) -> str:
    return f"stock:{next(i for i, line in enumerate(request.stock) if line is cover)}"


def _new_bars(
    request: Request, group: GroupPlan, used: Counter[str], *, shelf_apart: bool
) -> tuple[list[BarKind], list[BarKind]]:
    """Give the bars on offer and, where they are wanted apart, those on hand."""
    material = group.material
    covers = covers_on_offer(request, material) if family_follows(request, material) else []
    bars: list[BarKind] = []
    shelf: list[BarKind] = []
    for index, line in enumerate(request.stock):
        if (line.family, line.finish, line.part) != (material.family, material.finish, material.part):
            continue
        key = f"stock:{index}"
        same = [cover for cover in covers if cover.length == line.length]
        if covers and not same:
            continue
        offers = (line, *same[:1])
        costs = [lowest_price(request, offer, material.lot, priced=group.priced) for offer in offers]
        if None in costs:
            raise ProblemError(f"{material}: the cost is money, but stock line {index + 1} has no price.")
        # Without prices only the bars of the material itself are counted.
        cost = sum(known or 0 for known in (costs if group.priced else costs[:1]))
        left = [
            offer.count
            - used[name]
            - (0 if may_take_from_shelf(request, offer, material.lot) else offer.on_hand)
            for name, offer in ((key, line), *((_cover_key(request, cover), cover) for cover in same[:1]))
            if offer.count is not None
        ]
        bar = BarKind(
            key=key,
            length=line.length,
            head=group.saw.head_trim,
            tail=_least_rest(request, group.saw.tail_loss, group.saw.kerf),
            cost=cost,
            count=max(min(left), 0) if left else None,
        )
        if shelf_apart and not same and line.on_hand and may_take_from_shelf(request, line, material.lot):
            on_hand = int(line.hand_value or 0) if group.priced else 0
            shelf.append(replace(bar, key=f"{key} on hand", cost=on_hand, count=line.on_hand))
            bought = lowest_price(request, replace(line, on_hand=0), material.lot, priced=group.priced)
            rest = None if bar.count is None else max(bar.count - line.on_hand, 0)
            bar = replace(bar, cost=bought or 0, count=rest)
        bars.append(bar)
    return bars, shelf


def _offcuts(request: Request, group: GroupPlan, used: Counter[str]) -> list[BarKind]:
    material = group.material
    rules = {family.name: family.lot_rule for family in request.families}
    by_room = rules.get(material.family) is LotRule.ROOM
    bars = []
    for offcut in request.offcuts:
        if (offcut.family, offcut.finish, offcut.part) != (material.family, material.finish, material.part):
            continue
        if offcut.lot != material.lot if material.lot else by_room:
            continue
        raw_ends = (offcut.left is EndState.RAW) + (offcut.right is EndState.RAW)
        bars.append(
            BarKind(
                key=offcut.tag,
                length=offcut.length,
                head=group.saw.head_trim if raw_ends == 2 else NO_LENGTH,
                tail=_least_rest(request, group.saw.tail_loss if raw_ends else NO_LENGTH, group.saw.kerf),
                cost=offcut_charge(request, material, offcut) if group.priced else 0,
                count=max(1 - used[offcut.tag], 0),
                offcut=True,
            )
        )
    return bars
