"""Room for what came back: spoiled pieces, offcuts, tails of open bars, exchanges, and new bars at last."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from nesting.batch.pool import Limits
from nesting.batch.watch import Flag
from nesting.domain.made import BarState
from nesting.domain.material import Material
from nesting.domain.pieces import Piece
from nesting.domain.plan import PlannedBar
from nesting.planning.group import Group
from nesting.planning.rest import Taken, group_for, group_left, rebuilt_bar, rest_kind
from nesting.planning.settle import Settled, settle
from nesting.planning.standing import KeptBar
from nesting.planning.swap import swaps
from nesting.stop import AnyOf, Cancelled, MaxRuntime

_MOST_SWAPS_TRIED = 30


@dataclass(frozen=True, slots=True)
class Found:
    """Room for pieces that came back, pieces without any, and open bars whose pieces were exchanged."""

    settled: Settled | None
    out: tuple[Piece, ...]
    changed: tuple[PlannedBar, ...]

    @property
    def needs_more(self) -> bool:
        """Whether a bar more than ordered is opened, or something is left out."""
        return self.settled is not None and (
            bool(self.out) or self.settled.result.short > 0 or (self._new > 0 and not self._from_reserve)
        )

    @property
    def worth(self) -> tuple[int, int, int]:
        """Give length left out, money, bars exchanged: less is better."""
        short = sum(piece.length for piece in self.out)
        if self.settled is None:
            return short, 0, len(self.changed)
        return short + self.settled.result.short, self.settled.result.cost, len(self.changed)

    @property
    def _new(self) -> int:
        if self.settled is None:
            return 0
        kinds = self.settled.group.problem.bars
        return sum(use.times for use in self.settled.result.best.uses if not kinds[use.bar].offcut)

    @property
    def _from_reserve(self) -> bool:
        """Whether what was ordered before is enough."""
        if self.settled is None:
            return False
        offers = self.settled.group.market.offers
        return all(
            deal.bars + deal.hand <= (offer.ordered or offer.kept)
            for offer, deal in zip(offers, self.settled.bill.deals, strict=False)
        )


class Room:
    """
    Finds room for pieces of one material at a time, leaving open bars as they are where it can.

    Parameters
    ----------
    whole
        Every material's group with all its terms.
    pieces
        Every piece of the plan by its id.
    prefix
        Of the tags of new tails.
    """

    def __init__(
        self,
        whole: Mapping[Material, Group],
        pieces: Mapping[str, Piece],
        limits: Limits,
        cancel: Flag,
        prefix: str,
    ) -> None:
        self._whole, self._pieces, self._limits = whole, pieces, limits
        self._cancel, self._prefix = cancel, prefix

    def find(self, whole: Group, back: tuple[Piece, ...], bars: Mapping[int, KeptBar]) -> Found:
        """Find room for pieces of one material, exchanging pieces of open bars where that saves a new one."""
        taken = Taken.by(tuple(bars.values()))
        own = {n: one.bar for n, one in bars.items() if one.material == whole.material}
        found = self._settled(whole, back, own, taken, ())
        tried = 0
        seen: set[tuple[int, str, str]] = set()
        while found.settled is not None and found.needs_more and tried < _MOST_SWAPS_TRIED:
            now = {**own, **{bar.number: bar for bar in found.changed}}
            open_bars = [bar for _, bar in sorted(now.items()) if bar.state is BarState.OPEN]
            for swap in swaps(found.settled.group, open_bars, self._pieces, whole.saw):
                key = (swap.bar, swap.out.id, swap.into.id)
                if key in seen or tried >= _MOST_SWAPS_TRIED:
                    continue
                seen.add(key)
                tried += 1
                bar = now[swap.bar]
                cuts = [swap.into if c.piece == swap.out.id else self._pieces[c.piece] for c in bar.cuts]
                changed = rebuilt_bar(bar, cuts, whole.saw, f"{self._prefix}-{bar.number}")
                homeless = (*found.settled.group.pieces, *found.out)
                moved = tuple(swap.out if p.id == swap.into.id else p for p in homeless)
                others = tuple(b for b in found.changed if b.number != bar.number)
                again = self._settled(whole, moved, now, taken, (*others, changed))
                if again.worth < found.worth:
                    found = again
                    break
            else:
                break
        return found

    def _settled(
        self,
        whole: Group,
        pieces: tuple[Piece, ...],
        own: Mapping[int, PlannedBar],
        taken: Taken,
        changed: tuple[PlannedBar, ...],
    ) -> Found:
        now = {**own, **{bar.number: bar for bar in changed}}
        # Behind a slope a tail is no plain bar, so mitred materials take new bars and offcuts alone.
        open_bars = sorted(now.items()) if whole.mitre is None else []
        rests = [kind for _, bar in open_bars if (kind := rest_kind(bar))]
        group, out = group_for(group_left(whole, self._whole, taken, rests), pieces)
        if group is None:
            return Found(None, out, changed)
        stops = [Cancelled(self._cancel)]
        stop = AnyOf(*stops, MaxRuntime(self._limits.seconds)) if self._limits.seconds else AnyOf(*stops)
        return Found(settle(group, seed=self._limits.seed, stop=stop), out, changed)
