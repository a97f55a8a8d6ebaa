"""Which bars two plans share, and which pieces moved between the others, in words."""

from __future__ import annotations

from collections import defaultdict, deque
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from nesting.domain.made import BarState
from nesting.domain.plan import Plan, PlannedBar
from nesting.reports.lengths import BothUnits
from nesting.reports.whereabouts import numbers_words

_SHOWN = 40


@dataclass(frozen=True, slots=True)
class PlacedBar:
    """A bar as it can be compared: of one material, from one source, cut into these pieces in this order."""

    material: str
    source: str
    bar: PlannedBar

    @property
    def same(self) -> tuple[object, ...]:
        """What two bars must share to be the same bar, whatever its number."""
        cuts = tuple((cut.piece, cut.length) for cut in self.bar.cuts)
        return (self.material, self.source, self.bar.length, cuts)

    def words(self, lengths: BothUnits) -> str:
        """Say which bar it is, to begin a sentence."""
        bar = self.bar
        source = f"offcut {bar.source}" if bar.offcut else f"new {lengths.said(bar.length)}"
        pieces = ", ".join(cut.piece for cut in bar.cuts) or "nothing"
        return f"Bar {bar.number} ({self.material}, {source}: {pieces})"


@dataclass(frozen=True, slots=True)
class _Paired:
    """Bars of two plans that belong together, and those of either that have no counterpart."""

    pairs: list[tuple[PlacedBar, PlacedBar]]
    gone: list[PlacedBar]
    come: list[PlacedBar]


def bar_changes(before: Plan, after: Plan) -> Iterator[str]:
    """
    Say which bars are added, removed, changed or reported, and which pieces moved from bar to bar.

    Bars that are cut alike from the same source are the same bar, also where they are numbered anew.
    """
    old, new = placed_bars(before), placed_bars(after)
    paired = _paired(old, new)
    pairs, lengths = paired.pairs, BothUnits.of(after)
    said = [*_reported(pairs, lengths), *_renumbered(pairs), *_changed(pairs)]
    said += [f"{one.words(lengths)} is gone." for one in paired.gone]
    said += [f"{one.words(lengths)} is new." for one in paired.come]
    said += _moved(old, new, pairs)
    yield from said[:_SHOWN]
    if len(said) > _SHOWN:
        yield f"and {len(said) - _SHOWN} more changes of bars and pieces."


def placed_bars(plan: Plan) -> list[PlacedBar]:
    """Give a plan's bars in the order of their numbers, each with its material and where it comes from."""
    stock = plan.request.stock
    placed = []
    for group in plan.groups:
        for bar in group.bars:
            prefix, _, at = bar.source.partition(":")
            source = bar.source
            if not bar.offcut and prefix == "stock" and at.isdecimal() and int(at) < len(stock):
                line = stock[int(at)]
                # A stock line's place in the list is no part of it.
                source = f"{line.family} {line.finish} {line.part.value} {line.length} {line.supplier}"
            placed.append(PlacedBar(str(group.material), source, bar))
    return sorted(placed, key=lambda one: one.bar.number)


def _paired(old: list[PlacedBar], new: list[PlacedBar]) -> _Paired:
    """
    Pair bars: same number and same cuts, then same cuts, then same number and same source.

    A bar the shop has reported since is itself, even when nothing was cut from it and another one is cut
    as it was planned.
    """
    pairs: list[tuple[PlacedBar, PlacedBar]] = []
    reported = {one.bar.number for one in new if one.bar.state.cut}
    reported -= {one.bar.number for one in old if one.bar.state.cut}

    def as_reported(one: PlacedBar) -> object:
        itself = one.bar.number in reported
        return (one.bar.number, one.material, one.source) if itself else id(one)

    keys: tuple[Callable[[PlacedBar], object], ...] = (
        lambda one: (one.bar.number, one.same),
        as_reported,
        lambda one: one.same,
        lambda one: (one.bar.number, one.material, one.source),
    )
    for key in keys:
        waiting: defaultdict[object, deque[PlacedBar]] = defaultdict(deque)
        for one in new:
            waiting[key(one)].append(one)
        left = []
        for one in old:
            alike = waiting[key(one)]
            if alike:
                pairs.append((one, alike.popleft()))
            else:
                left.append(one)
        old = left
        new = [one for alike in waiting.values() for one in alike]
    pairs.sort(key=lambda pair: pair[1].bar.number)
    return _Paired(pairs, old, sorted(new, key=lambda one: one.bar.number))


def _reported(pairs: list[tuple[PlacedBar, PlacedBar]], lengths: BothUnits) -> Iterator[str]:
    states: defaultdict[BarState, list[int]] = defaultdict(list)
    for old, new in pairs:
        if old.bar.state is not new.bar.state:
            states[new.bar.state].append(new.bar.number)
    for state in BarState:
        if numbers := states[state]:
            said = numbers_words(tuple(sorted(numbers)))
            yield f"Bar {said} is {state.value}." if len(numbers) == 1 else f"Bars {said} are {state.value}."
    for old, new in pairs:
        a, b = old.bar, new.bar
        if b.true_tail is not None and a.true_tail != b.true_tail:
            planned = f"{lengths.said(a.tail)} was planned"
            short = "; the bar was short" if b.short else ""
            yield f"Bar {b.number} left a tail of {lengths.said(b.true_tail)}, {planned}{short}."
        for spoiled in b.spoiled:
            if spoiled not in a.spoiled:
                out = "gave nothing usable"
                if spoiled.length:
                    out = f"came out as {lengths.said(spoiled.length)}"
                tag = f", now {spoiled.tag}" if spoiled.tag else ""
                yield f"Bar {b.number}: piece {spoiled.piece} {out}{tag}."
        for span in b.defects:
            if span not in a.defects:
                start, end = lengths.said(span.start), lengths.said(span.end)
                yield f"Bar {b.number} is damaged from {start} to {end}."


def _renumbered(pairs: list[tuple[PlacedBar, PlacedBar]]) -> Iterator[str]:
    for old, new in pairs:
        if old.bar.number != new.bar.number:
            yield f"Bar {old.bar.number} is bar {new.bar.number} now, cut as before."


def _changed(pairs: list[tuple[PlacedBar, PlacedBar]]) -> Iterator[str]:
    for old, new in pairs:
        a, b = old.bar, new.bar
        if old.same != new.same:
            before, after = [c.piece for c in a.cuts], [c.piece for c in b.cuts]
            if b.state is BarState.STOPPED and a.state is not BarState.STOPPED:
                yield _stopped(a, b)
                continue
            lost = [piece for piece in before if piece not in after]
            won = [piece for piece in after if piece not in before]
            words = [f"without {', '.join(lost)}"] if lost else []
            words += [f"with {', '.join(won)}"] if won else []
            yield f"Bar {b.number} is cut {' and '.join(words) or 'in another order or to other lengths'}."
        elif a.state.cut is b.state.cut and _figures(a) != _figures(b):
            yield f"Bar {b.number} is cut alike, but its trims, strokes or tail are not the same."


def _stopped(planned: PlannedBar, bar: PlannedBar) -> str:
    """Say how far a bar was cut before it was given up, and what of it is planned again."""
    again = ", ".join(cut.piece for cut in planned.cuts[len(bar.cuts) :])
    if not bar.cuts:
        return f"Nothing was cut from bar {bar.number}; planned again: {again}."
    after = f"after {len(bar.cuts)} of {len(planned.cuts)} cuts"
    return f"Bar {bar.number} was stopped {after}" + (f"; planned again: {again}." if again else ".")


def _figures(bar: PlannedBar) -> tuple[object, ...]:
    faces = tuple((cut.face, cut.held) for cut in bar.cuts)
    tail = (bar.fate, bool(bar.tail_tag), bar.true_tail)
    return (bar.head, bar.tail_loss, faces, bar.strokes, bar.kerf_loss, bar.tail, bar.sliver, tail)


def _moved(old: list[PlacedBar], new: list[PlacedBar], pairs: list[tuple[PlacedBar, PlacedBar]]) -> list[str]:
    """Say which pieces went from one bar to another; a bar that is only numbered anew moves nothing."""
    now_called = {a.bar.number: b.bar.number for a, b in pairs}
    was = {cut.piece: one.bar.number for one in old for cut in one.bar.good_cuts}
    now = {cut.piece: one.bar.number for one in new for cut in one.bar.good_cuts}
    return [
        f"Piece {piece} goes from bar {was[piece]} to bar {now[piece]}."
        for piece in was
        if piece in now and now_called.get(was[piece]) != now[piece]
    ]
