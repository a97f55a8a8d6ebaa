"""What the bars that stay in a plan leave for more pieces, and bars with pieces added or exchanged."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from nesting.domain.made import BarState
from nesting.domain.material import Material
from nesting.domain.packing import Packing, PatternUse
from nesting.domain.pieces import Piece
from nesting.domain.plan import PlannedBar
from nesting.domain.problem import BarKind, Problem
from nesting.domain.rules import SawRules
from nesting.planning.assemble import sawn_bar
from nesting.planning.group import Group, on_terms
from nesting.planning.mitred import nested_length, widest_stroke
from nesting.planning.sequence import cut_order
from nesting.planning.slivers import gives
from nesting.planning.standing import KeptBar
from nesting.takeoff.mitred_run import needed_by
from nesting.units import Length

# Request readers keep tags that begin with "stock:" for the program, so no offcut is called so.
_REST = "stock:rest of bar "


@dataclass(frozen=True, slots=True)
class Taken:
    """
    What bars that stay have taken: of each material the bars opened by source, and all tags.

    Parameters
    ----------
    opened
        Bars of each source key, material by material.
    """

    opened: Mapping[Material, Counter[str]]

    @classmethod
    def by(cls, bars: Sequence[KeptBar]) -> Taken:
        """Count what some bars take."""
        opened: dict[Material, Counter[str]] = {}
        for one in bars:
            opened.setdefault(one.material, Counter())[one.bar.source] += 1
        return cls(opened)

    @property
    def tags(self) -> frozenset[str]:
        """Every source taken; of the rack's offcuts these are gone."""
        return frozenset(key for own in self.opened.values() for key in own)

    def lines_of(self, group: Group) -> Counter[int]:
        """Give the bars taken of each of the request's stock lines for one group's material."""
        own = self.opened.get(group.material, Counter())
        lines: Counter[int] = Counter()
        for kind, uses in enumerate(group.market.uses):
            for offer in uses:
                lines[group.market.offers[offer].line] += own[group.problem.bars[kind].key]
        return lines


def group_left(
    group: Group, whole: Mapping[Material, Group], taken: Taken, more: Sequence[BarKind] = ()
) -> Group:
    """
    Give a group with what is taken already out of its reach.

    Where packs, price breaks or bars ordered as a reserve matter, bars its own material has opened stay
    on its bill, so that these count them; bars that others have opened of the same stock lines are fewer
    for it.

    Parameters
    ----------
    whole
        Every material's group with all its terms.
    more
        Kinds of bar to offer beside its own.
    """
    mine = taken.lines_of(whole[group.material]) if group.material in whole else Counter[int]()
    others: Counter[int] = Counter()
    for material, other in whole.items():
        if material != group.material:
            opened = taken.lines_of(other)
            others.update(opened)
            others.update({o.line: o.reserve_at(opened[o.line]) for o in other.market.offers})
    on_the_bill = Counter[int]() if group.market.plain else mine
    gone = others + mine if group.market.plain else others
    offers = tuple(
        replace(
            offer,
            kept=offer.kept + on_the_bill[offer.line],
            most=None if offer.most is None else max(offer.most - gone[offer.line], 0),
        )
        for offer in group.market.offers
    )
    left = on_terms(group, replace(group.market, offers=offers))
    kinds = len(left.market.uses)
    offcuts = (bar for bar in left.problem.bars[kinds:] if bar.key not in taken.tags)
    problem = replace(left.problem, bars=(*left.problem.bars[:kinds], *offcuts, *more))
    return replace(left, problem=problem, spares=type(group.spares)())


def group_for(group: Group, pieces: Sequence[Piece]) -> tuple[Group | None, tuple[Piece, ...]]:
    """Give a group that asks for these pieces alone, and those that none of its bars can give."""
    there = [bar for bar in group.problem.bars if bar.count is None or bar.count > 0]
    stroke = widest_stroke(pieces, group.saw.kerf)
    able = {
        length
        for length in {needed_by(piece, group.mitre, group.saw) for piece in pieces}
        if any(
            gives(bar, length, kerf=stroke, goals=group.goals, exactly=group.mitre is None) for bar in there
        )
    }
    fitting = tuple(piece for piece in pieces if needed_by(piece, group.mitre, group.saw) in able)
    out = tuple(piece for piece in pieces if needed_by(piece, group.mitre, group.saw) not in able)
    if not fitting:
        return None, out
    counts = Counter(nested_length(piece) for piece in fitting)
    lengths = tuple(sorted(counts, reverse=True))
    problem = Problem(
        name=group.problem.name,
        lengths=lengths,
        counts=tuple(counts[length] for length in lengths),
        bars=group.problem.bars,
        kerf=group.problem.kerf,
        keep_length=group.problem.keep_length,
    )
    return replace(group, pieces=fitting, problem=problem), out


def rest_kind(bar: PlannedBar) -> BarKind | None:
    """Give the tail of a bar still to be cut as a bar to cut more from; None when it has none."""
    if bar.state is not BarState.OPEN or bar.tail <= bar.tail_loss:
        return None
    # The last stroke is planned already; its clean face leads.
    return BarKind(
        key=f"{_REST}{bar.number}", length=bar.tail, tail=bar.tail_loss, cost=0, count=1, offcut=True
    )


def rest_number(key: str) -> int | None:
    """Give the number of the bar whose tail a source key names; None for any other source."""
    return int(key.removeprefix(_REST)) if key.startswith(_REST) else None


def rebuilt_bar(bar: PlannedBar, pieces: Sequence[Piece], saw: SawRules, tag: str) -> PlannedBar:
    """
    Give a bar that keeps its number and its source but is cut into other pieces, in a safe order.

    Parameters
    ----------
    tag
        For its tail, where it had none before.
    """
    lengths = [piece.length for piece in pieces]
    order = cut_order(lengths, bar.length, bar.head, saw)
    kind = BarKind(key=bar.source, length=bar.length, head=bar.head, tail=bar.tail_loss, offcut=bar.offcut)
    rest = rest_behind(bar, lengths, saw)
    return sawn_bar(bar.number, kind, [pieces[i] for i in order], rest, saw, bar.tail_tag or tag)


def rest_behind(bar: PlannedBar, lengths: Sequence[Length], saw: SawRules) -> Length:
    """Give what stands behind the last of some pieces before its stroke; they fit from the tail loss on."""
    return Length(bar.length - bar.head - sum(lengths) - max(len(lengths) - 1, 0) * saw.kerf)


def opened_packing(group: Group, bars: Sequence[PlannedBar]) -> Packing:
    """Give how often each kind of a group's bars is opened, for the bill; the patterns are left out."""
    count = Counter(bar.source for bar in bars)
    uses = tuple(
        PatternUse(index, (), count[kind.key])
        for index, kind in enumerate(group.problem.bars)
        if count[kind.key]
    )
    return Packing(uses, (0,) * len(group.problem.lengths))
