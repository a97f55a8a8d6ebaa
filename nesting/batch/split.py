"""From a request's pieces to independent problems, one per material."""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence, Set
from dataclasses import dataclass, replace

from nesting.batch.left_out import left_out as left_out_of_plan
from nesting.domain.material import Material, Part
from nesting.domain.mitre import MitrePlane, MitreSection
from nesting.domain.pieces import Piece
from nesting.domain.plan import Unplaced
from nesting.domain.problem import Problem
from nesting.domain.request import Request
from nesting.planning.group import Group, on_terms, stock_key
from nesting.planning.mitred import nested_length, widest_stroke
from nesting.planning.slivers import gives
from nesting.planning.supply import supply_of
from nesting.planning.urgency import rank_of, ranks_of
from nesting.takeoff.mitred_run import mitre_section, needed_by
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
    ranks = ranks_of(request)
    for piece in sorted(pieces, key=lambda piece: (rank_of(piece, ranks), *building_order(piece))):
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


def take_from(group: Group, lines: Mapping[int, int], tags: Set[str]) -> Group:
    """
    Give the group with what earlier groups of its chain have taken off the limited bars and the rack.

    Parameters
    ----------
    lines
        Bars taken of each of the request's stock lines.
    tags
        Offcuts taken.
    """
    offers = tuple(
        offer if offer.most is None else replace(offer, most=max(offer.most - lines.get(offer.line, 0), 0))
        for offer in group.market.offers
    )
    left = on_terms(group, replace(group.market, offers=offers))
    kinds = len(left.market.uses)
    offcuts = (replace(bar, count=0) if bar.key in tags else bar for bar in left.problem.bars[kinds:])
    return replace(left, problem=replace(left.problem, bars=(*left.problem.bars[:kinds], *offcuts)))


def _natural(text: str) -> tuple[tuple[int, int, str], ...]:
    parts = re.findall(r"\d+|\D+", text.casefold())
    return tuple((0, int(p), "") if p.isdecimal() else (1, 0, p) for p in parts)


def _group(
    request: Request, material: Material, wanted: Sequence[Piece]
) -> tuple[Group | None, list[Unplaced]]:
    family = request.family(material.family)
    follows = bool(family and family.cover_mode.together and material.part is Part.CHANNEL)
    saw = request.saw_for(material.part)
    supply = supply_of(request, material, saw, follows=follows)
    bars = supply.bars
    longest = max((bar.usable for bar in bars), default=Length(0))
    section, wanted, left_out = _one_plane(request, wanted)
    needed = {piece.id: needed_by(piece, section, saw) for piece in wanted}
    stroke = widest_stroke(wanted, saw.kerf)
    fits = {
        length: any(
            gives(bar, length, kerf=stroke, goals=request.goals, exactly=section is None) for bar in bars
        )
        for length in set(needed.values())
    }
    fitting = [piece for piece in wanted if fits[needed[piece.id]]]
    left_out += [
        _unplaced(piece, needed[piece.id], material, longest, stocked=bool(bars))
        for piece in wanted
        if not fits[needed[piece.id]]
    ]
    if not fitting:
        return None, left_out
    counts = Counter(nested_length(piece) for piece in fitting)
    lengths = tuple(sorted(counts, reverse=True))
    problem = Problem(
        name=str(material),
        lengths=lengths,
        counts=tuple(counts[length] for length in lengths),
        bars=bars,
        kerf=saw.kerf,
        keep_length=saw.keep_length,
    )
    group = Group(
        material=material,
        pieces=tuple(fitting),
        problem=problem,
        saw=saw,
        priced=supply.priced,
        cover_follows=follows,
        market=supply.market,
        mitre=section,
        spares=request.buying.spares,
        goals=request.goals,
        born=tuple((offcut.tag, offcut.born) for offcut in request.offcuts if offcut.born),
    )
    return group, left_out


def _one_plane(
    request: Request, wanted: Sequence[Piece]
) -> tuple[MitreSection | None, list[Piece], list[Unplaced]]:
    """
    Give the section of a material's mitres, the pieces it holds for, and those it does not.

    A bar has mitres of one plane, and so has a material's plan: where runs are mitred both flat and
    standing, those of the plane with fewer pieces are left out.
    """
    runs = {(run.job, run.id): run for run in request.runs}
    planes = {
        piece.id: plane
        for piece in wanted
        if piece.mitred and (plane := runs[piece.job, piece.run].plane) is not None
    }
    if not planes:
        return None, list(wanted), []
    plane = max(MitrePlane, key=list(planes.values()).count)
    first = next(piece for piece in wanted if planes.get(piece.id) is plane)
    family = request.family(first.material.family)
    section = mitre_section(family, plane) if family else None
    kept = [piece for piece in wanted if planes.get(piece.id, plane) is plane]
    out = [
        Unplaced(
            job=piece.job,
            run=piece.run,
            piece=piece.id,
            length=piece.length,
            reason=f"{piece.material} has flat and standing mitres; one plan cuts one kind, plan these apart",
            code="mitre-planes",
            where=piece.where,
        )
        for piece in wanted
        if planes.get(piece.id, plane) is not plane
    ]
    return section, kept, out


def _unplaced(
    piece: Piece, needed: Length, material: Material, longest: Length, *, stocked: bool
) -> Unplaced:
    if needed <= longest:
        code = "only-with-sliver"
        reason = (
            f"every bar of {material} that holds it would leave less than a kerf behind it, and slivers "
            "are forbidden"
        )
    elif stocked:
        code = "too-long"
        reason = (
            f"{length_text(piece.length, Unit.MM)} is longer than any bar of {material} gives "
            f"({length_text(longest, Unit.MM)} after trims)"
        )
    else:
        code, reason = "not-stocked", f"no stock length and no offcut of {material} is listed"
    return left_out_of_plan(piece, code, reason)


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
    lines = {stock_key(offer.line) for offer in group.market.offers if offer.most is not None}
    return lines | {bar.key for bar in group.problem.bars if bar.offcut}
