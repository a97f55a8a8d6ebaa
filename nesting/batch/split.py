"""From a request's pieces to independent problems, one per material."""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from nesting.domain.material import LotRule, Material, Part
from nesting.domain.pieces import Piece
from nesting.domain.plan import Unplaced
from nesting.domain.problem import BarKind, Problem
from nesting.domain.request import Request
from nesting.domain.stock import Offcut, StockLine
from nesting.money import NO_MONEY, Money
from nesting.planning.group import Group, stock_key
from nesting.planning.purchase import covers_listed
from nesting.units import Length, Unit, length_text


@dataclass(frozen=True, slots=True)
class Split:
    """
    The groups of a request.

    Parameters
    ----------
    chains
        Groups that draw on the same limited bars or offcuts, in planning order; most chains have
        one group. Different chains are independent.
    unplaced
        Pieces that no bar on offer can give.
    """

    chains: tuple[tuple[Group, ...], ...]
    unplaced: tuple[Unplaced, ...]


def split(request: Request, pieces: Sequence[Piece]) -> Split:
    """Group pieces by material and set out the bars each group may use."""
    by_material: defaultdict[Material, list[Piece]] = defaultdict(list)
    for piece in sorted(pieces, key=building_order):
        by_material[piece.material].append(piece)
    groups: list[Group] = []
    unplaced: list[Unplaced] = []
    for material, wanted in sorted(by_material.items(), key=lambda item: item[0]):
        group, left_out = _group(request, material, wanted)
        unplaced.extend(left_out)
        if group:
            groups.append(group)
    return Split(_chains(groups), tuple(unplaced))


def building_order(piece: Piece) -> tuple[object, ...]:
    """Sort pieces job by job, floor by floor, unit by unit; numbers in names count as numbers."""
    place = piece.place
    levels = (piece.job, place.building, place.floor, place.unit, place.room, piece.run)
    return (*(_natural(level) for level in levels), piece.copy, piece.section, piece.id)


def take_from(group: Group, used: Mapping[str, int]) -> Group:
    """Give the group with what earlier groups of its chain have used taken off the limited bars."""
    bars = tuple(
        replace(bar, count=max(min(count - used.get(key, 0) for key, count in limits), 0)) if limits else bar
        for bar, limits in zip(group.problem.bars, group.limits, strict=True)
    )
    return replace(group, problem=replace(group.problem, bars=bars))


def _natural(text: str) -> tuple[tuple[int, int, str], ...]:
    parts = re.findall(r"\d+|\D+", text.casefold())
    return tuple((0, int(p), "") if p.isdecimal() else (1, 0, p) for p in parts)


def _group(
    request: Request, material: Material, wanted: Sequence[Piece]
) -> tuple[Group | None, list[Unplaced]]:
    family = request.family(material.family)
    follows = bool(family and family.cover_mode.together and material.part is Part.CHANNEL)
    saw = request.saw_for(material.part)
    offers = _offers(request, material, follows=follows)
    by_room = family is not None and family.lot_rule is LotRule.ROOM
    offcuts = [offcut for offcut in request.offcuts if _serves(offcut, material, by_room=by_room)]
    priced = bool(offers) and all(offer.price is not None for offer in offers)
    limits = [offer.limits for offer in offers] + [((offcut.tag, 1),) for offcut in offcuts]
    bars = [
        BarKind(
            key=stock_key(offer.index),
            length=offer.line.length,
            head=saw.head_trim,
            tail=saw.tail_loss,
            cost=int(offer.price) if priced and offer.price is not None else 1,
            count=min((count for _, count in offer.limits), default=None),
        )
        for offer in offers
    ]
    for offcut in offcuts:
        head, tail = offcut.losses(saw)
        bars.append(
            BarKind(
                key=offcut.tag,
                length=offcut.length,
                head=head,
                tail=tail,
                cost=int(offcut.value or NO_MONEY) if priced else 0,
                count=1,
                offcut=True,
            )
        )
    longest = max((bar.usable for bar in bars), default=Length(0))
    fitting = [piece for piece in wanted if piece.length <= longest]
    left_out = [
        _unplaced(piece, material, longest, stocked=bool(bars)) for piece in wanted if piece.length > longest
    ]
    if not fitting:
        return None, left_out
    counts = Counter(piece.length for piece in fitting)
    lengths = tuple(sorted(counts, reverse=True))
    problem = Problem(
        name=str(material),
        lengths=lengths,
        counts=tuple(counts[length] for length in lengths),
        bars=tuple(bars),
        kerf=saw.kerf,
        keep_length=saw.keep_length,
    )
    group = Group(
        material=material,
        pieces=tuple(fitting),
        problem=problem,
        saw=saw,
        priced=priced,
        cover_follows=follows,
        limits=tuple(limits),
    )
    return group, left_out


@dataclass(frozen=True, slots=True)
class _Offer:
    """A stock line a material can use, the price of one bar with its cover, and what limits it."""

    index: int
    line: StockLine
    price: Money | None
    limits: tuple[tuple[str, int], ...]


def _offers(request: Request, material: Material, *, follows: bool) -> list[_Offer]:
    covers = covers_listed(request, material.family, material.finish) if follows else ()
    offers: list[_Offer] = []
    for index, line in enumerate(request.stock):
        if (line.family, line.finish, line.part) != (material.family, material.finish, material.part):
            continue
        price = line.price
        sources = [(index, line)]
        if covers:
            cover = next((c for c in covers if c.length == line.length), None)
            if cover is None:
                continue
            price = None if price is None or cover.price is None else Money(price + cover.price)
            sources.append((request.stock.index(cover), cover))
        limits = tuple((stock_key(at), s.count) for at, s in sources if s.count is not None)
        offers.append(_Offer(index, line, price, limits))
    return offers


def _serves(offcut: Offcut, material: Material, *, by_room: bool) -> bool:
    """
    Whether an offcut may be cut for a material.

    A group bound to a lot takes its own lot only. Where every room must be of one lot, new bars are
    one delivery but an offcut may be of any lot, so none is taken.
    """
    same = (offcut.family, offcut.finish, offcut.part) == (material.family, material.finish, material.part)
    return same and (offcut.lot == material.lot if material.lot else not by_room)


def _unplaced(piece: Piece, material: Material, longest: Length, *, stocked: bool) -> Unplaced:
    if stocked:
        code = "too-long"
        reason = (
            f"{length_text(piece.length, Unit.MM)} is longer than any bar of {material} gives "
            f"({length_text(longest, Unit.MM)} after trims)"
        )
    else:
        code, reason = "not-stocked", f"no stock length and no offcut of {material} is listed"
    return Unplaced(
        job=piece.job,
        run=piece.run,
        piece=piece.id,
        length=piece.length,
        reason=reason,
        code=code,
        where=piece.where,
    )


def _chains(groups: Sequence[Group]) -> tuple[tuple[Group, ...], ...]:
    """Put groups that share a limited bar kind or an offcut into one chain, in material order."""
    chains: list[list[Group]] = []
    for group in groups:
        limited = _limited(group)
        linked = [chain for chain in chains if any(limited & _limited(other) for other in chain)]
        chains = [chain for chain in chains if chain not in linked]
        chains.append([*(g for chain in linked for g in chain), group])
    return tuple(tuple(sorted(chain, key=lambda group: group.material)) for chain in chains)


def _limited(group: Group) -> set[str]:
    return {key for limits in group.limits for key, _ in limits}
