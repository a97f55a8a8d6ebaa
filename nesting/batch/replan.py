"""A plan planned again after a report from the shop, with as little change as it can."""

from __future__ import annotations

import threading
from collections.abc import Callable
from dataclasses import dataclass, replace

from nesting.batch.fixtures import fixture_of
from nesting.batch.left_out import used_up
from nesting.batch.pool import Limits, solve_chains
from nesting.batch.proofs import with_certificates
from nesting.batch.room import Room
from nesting.batch.split import building_order, split
from nesting.batch.watch import Flag, Unwatched, Watcher
from nesting.batch.whole import Rebuilt, whole_plan
from nesting.domain.digest import replan_id
from nesting.domain.plan import Plan, Unplaced
from nesting.domain.report import ShopReport
from nesting.errors import SolverFault
from nesting.planning.assemble import assemble
from nesting.planning.offers import SpoiledOffer, spoiled_offers
from nesting.planning.ordered import ordered_by, with_ordered
from nesting.planning.rest import (
    Taken,
    group_for,
    group_left,
    rebuilt_bar,
    rest_number,
)
from nesting.planning.standing import KeptBar, Standing, standing_after, without
from nesting.verify import violations
from nesting.verify.ordered import ordered_violations
from nesting.verify.replanned import succession_violations


@dataclass(frozen=True, slots=True, kw_only=True)
class Replanned:
    """
    The new plan and what else could have been done.

    Parameters
    ----------
    offers
        What each spoiled piece can still become.
    alternative
        The fresh plan of everything open, when it costs less or leaves less out and was not taken;
        None otherwise.
    """

    plan: Plan
    offers: tuple[SpoiledOffer, ...]
    alternative: Plan | None = None


def replan(
    plan: Plan,
    report: ShopReport,
    limits: Limits | None = None,
    *,
    freely: bool = False,
    watcher: Watcher | None = None,
    cancel: Flag | None = None,
) -> Replanned:
    """
    Plan what came back from the shop again, and leave everything else as it is.

    Cut and frozen bars never move. Every other bar stays as planned, and what came back goes into
    spoiled pieces, offcuts, tails of open bars, bars ordered as a reserve and then more bars, whichever is
    the least money; before one more is ordered, pieces of open bars are exchanged for it where that saves
    one. Everything open
    is also planned afresh: its bound holds for both, and where it is cheaper it is the alternative.

    Parameters
    ----------
    freely
        Take the fresh plan when it is the cheaper one.

    Raises
    ------
    InputRefused
        When the report does not fit the plan.
    SolverFault
        When the new plan fails its audit, which no report should be able to cause.
    """
    limits = limits or Limits()
    flag = cancel or threading.Event()
    standing = standing_after(plan, report)
    name = replan_id(plan, report, standing.request, seed=limits.seed, freely=freely)
    planner = _Replanner(plan, standing, limits, name, watcher or Unwatched(), flag)
    least = planner.least_change()
    fresh = planner.afresh()
    kept, anew = planner.finish(least, fresh), planner.finish(fresh, fresh)
    cheaper = _worth(anew) < _worth(kept)
    taken, made = (fresh, anew) if freely and cheaper else (least, kept)
    made = with_certificates(made, plan, limits, flag)
    found = (*violations(made), *succession_violations(plan, made), *ordered_violations(plan, made))
    if found:
        raise SolverFault("the new plan failed its audit:\n" + "\n".join(str(v) for v in found))
    return Replanned(
        plan=made,
        offers=tuple(spoiled_offers(standing, planner.pieces, taken.bars)),
        alternative=anew if cheaper and not freely else None,
    )


def _worth(plan: Plan) -> tuple[int, int, int]:
    """Give what makes one plan better than another: less left out, then money, then bars."""
    out = sum(one.length for one in plan.unplaced if one.piece)
    money = sum(group.cost for group in plan.groups if group.priced)
    return out, money, sum(group.cost for group in plan.groups if not group.priced)


class _Replanner:
    """The two ways to go on from where things stand."""

    def __init__(
        self, plan: Plan, standing: Standing, limits: Limits, name: str, watcher: Watcher, cancel: Flag
    ) -> None:
        self._plan, self._standing, self._limits, self._name = plan, standing, limits, name
        self._watcher, self._cancel = watcher, cancel
        self.pieces = {piece.id: piece for piece in plan.pieces}
        parts = split(standing.request, plan.pieces)
        # Every material with all it could ever be cut from, to look prices and terms up.
        self._ordered = ordered_by(plan)
        self._whole = {
            group.material: with_ordered(group, self._ordered) for chain in parts.chains for group in chain
        }
        self._earlier = {one.piece: one for one in plan.unplaced if one.piece}
        self._never = {one.piece: one for one in parts.unplaced}
        numbers = [bar.number for group in plan.groups for bar in group.bars]
        self._first = max(numbers, default=0) + 1
        self._room = Room(self._whole, self.pieces, limits, cancel, self._prefix)

    def least_change(self) -> Rebuilt:
        """Keep every open bar, and find room for what came back."""
        return self._whole_fixtures(self._keep_open_bars)

    def afresh(self) -> Rebuilt:
        """Plan everything that is not cut or frozen from nothing."""
        return self._whole_fixtures(self._plan_afresh)

    def _whole_fixtures(self, attempt: Callable[[Standing], Rebuilt]) -> Rebuilt:
        """
        Try again without the fixtures that were left out before and still cannot be finished.

        Their other pieces would be cut for nothing. A fixture that is begun is gone on with.
        """
        standing = self._standing
        while True:
            rebuilt = attempt(standing)
            unfinished = {fixture_of(self.pieces[one.piece]) for one in rebuilt.out}
            idle = {p.id for p in standing.back if p.id in self._earlier and fixture_of(p) in unfinished}
            placed = idle - {one.piece for one in rebuilt.out}
            if not placed:
                left = {p.id for p in self._standing.back} - {p.id for p in standing.back}
                return replace(rebuilt, out=(*rebuilt.out, *(self._earlier[name] for name in sorted(left))))
            standing = replace(standing, back=tuple(p for p in standing.back if p.id not in idle))

    def _keep_open_bars(self, standing: Standing) -> Rebuilt:
        """Find room for what came back, material by material."""
        bars = {one.bar.number: one for one in (*standing.kept, *standing.open)}
        out = [self._never[piece.id] for piece in standing.back if piece.id in self._never]
        number = self._first
        for material, group in sorted(self._whole.items(), key=lambda item: item[0]):
            back = [p for p in standing.back if p.material == material and p.id not in self._never]
            if not back:
                continue
            found = self._room.find(group, tuple(sorted(back, key=building_order)), bars)
            bars.update((bar.number, KeptBar(material, bar)) for bar in found.changed)
            out += [used_up(piece) for piece in found.out]
            if found.settled is None:
                continue
            assembly = assemble(
                found.settled.group,
                found.settled.result.best,
                first_number=number,
                tag_prefix=self._prefix,
            )
            out += [used_up(piece) for piece in assembly.short]
            for bar in assembly.bars:
                if (at := rest_number(bar.source)) is not None:
                    old = bars[at].bar
                    wanted = [self.pieces[cut.piece] for cut in (*old.cuts, *bar.cuts)]
                    tag = f"{self._prefix}-{at}"
                    bars[at] = KeptBar(material, rebuilt_bar(old, wanted, group.saw, tag))
                    continue
                tag = f"{self._prefix}-{number}" if bar.tail_tag else ""
                bars[number] = KeptBar(material, replace(bar, number=number, tail_tag=tag))
                number += 1
        return Rebuilt(tuple(bars[n] for n in sorted(bars)), tuple(out), {})

    def _plan_afresh(self, standing: Standing) -> Rebuilt:
        kept = standing.kept
        taken = Taken.by(kept)
        open_ids = {cut.piece for one in standing.open for cut in one.bar.cuts}
        open_ids.update(piece.id for piece in standing.back)
        wanted = [piece for piece in self._plan.pieces if piece.id in open_ids]
        request = standing.request
        rack = tuple(offcut for offcut in request.offcuts if offcut.tag not in taken.tags)
        parts = split(replace(request, offcuts=rack), wanted)
        out: list[Unplaced] = list(parts.unplaced)
        chains = []
        for chain in parts.chains:
            left = []
            for group in chain:
                terms = with_ordered(group, self._ordered)
                able, homeless = group_for(group_left(terms, self._whole, taken), group.pieces)
                out += [used_up(piece) for piece in homeless]
                left += [able] if able else []
            chains += [tuple(left)] if left else []
        # Nothing is weighed against the order of bars that are planned again.
        limits = replace(self._limits, next_best=False)
        solved = solve_chains(chains, limits, watcher=self._watcher, cancel=self._cancel)
        bars = list(kept)
        number = self._first
        gaps = {}
        for chain_of in solved:
            for one in chain_of:
                assembly = assemble(one.group, one.result.best, first_number=number, tag_prefix=self._prefix)
                bars += [KeptBar(one.group.material, bar) for bar in assembly.bars]
                number += len(assembly.bars)
                out += [used_up(piece) for piece in assembly.short]
                if len(chain_of) == 1:
                    # The proof holds on its own terms only where nobody else draws on the same bars.
                    gaps[one.group.material] = max(one.result.cost - one.result.bound, 0)
        for material in self._whole.keys() - {one.group.material for chain in solved for one in chain}:
            gaps[material] = 0  # nothing of it is open
        return Rebuilt(tuple(sorted(bars, key=lambda one: one.bar.number)), tuple(out), gaps)

    def finish(self, rebuilt: Rebuilt, fresh: Rebuilt) -> Plan:
        """Give the whole plan of some bars, bounded by what the fresh plan proves."""
        bars = [one.bar for one in rebuilt.bars]
        standing = without(self._standing, bars)
        kept = {one.bar.number: one for one in standing.kept}
        now = tuple(kept.get(one.bar.number, one) for one in rebuilt.bars)
        return whole_plan(
            self._plan,
            replace(rebuilt, bars=now),
            standing.request,
            self._whole,
            name=self._name,
            seed=self._limits.seed,
            fresh=fresh,
        )

    @property
    def _prefix(self) -> str:
        return self._name[:6].upper()
