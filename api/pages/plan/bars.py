"""Bars drawn to scale, those cut alike once, a page of them at a time."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from api.pages.plan.choice import Choice
from api.pages.plan.drawing import Stretch, drawn
from api.plans.states import BarState
from nesting.domain.made import BarState as PlannedState
from nesting.domain.pieces import Piece
from nesting.domain.plan import GroupPlan, Plan, PlannedBar, TailFate
from nesting.reports.bar_warnings import bar_warnings
from nesting.reports.lengths import BothUnits
from nesting.reports.tables import Alike, alike_bars, part_words
from nesting.reports.unverified import cuts_warning, unverified, unverified_cuts
from nesting.reports.whereabouts import numbers_words, pieces_by_id, source_words, spots, tail_words

CARDS_A_PAGE = 20
ROWS_A_CARD = 8


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One bar of a card: how far the shop is with it, and the piece of each of its cuts."""

    number: int
    state: str
    pieces: tuple[str, ...]
    tail_tag: str
    marked: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Card:
    """
    Bars that are cut alike.

    Parameters
    ----------
    stops, pieces
        Stop setting of each cut, both units; pieces of all the bars.
    stated
        Whether the shop has anything to do with the bars yet.
    tags
        Whether the bars give offcuts with tags that differ.
    rows, more
        The bars, and how many more there are than are listed.
    done
        What the shop has reported of the bars; empty while they are all open.
    """

    number: int
    name: str
    count: int
    source: str
    tail: str
    note: str
    warnings: tuple[str, ...]
    stretches: tuple[Stretch, ...]
    stops: tuple[str, ...]
    pieces: int
    stated: bool
    tags: bool
    rows: tuple[Row, ...]
    more: int
    done: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Shelf:
    """The cards of one material on one page."""

    material: str
    part: str
    cards: tuple[Card, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class BarsPage:
    """
    One page of a plan's bars.

    Parameters
    ----------
    bars, different, pieces
        How many bars, different bars and pieces the choice takes in, on all pages.
    at
        Number of the card that what is pointed at lies on; 0 when nothing is, or it is left out.
    """

    shelves: tuple[Shelf, ...]
    page: int
    pages: int
    bars: int
    different: int
    pieces: int
    at: int


@dataclass(frozen=True, slots=True)
class _Drawer:
    """What the drawing of any bar of a plan needs; ``point`` is the bar and the cut that is pointed at."""

    plan: Plan
    choice: Choice
    lengths: BothUnits
    states: Mapping[int, str]
    pieces: Mapping[str, Piece]
    unsure: frozenset[str]
    point: tuple[int, int]

    def wanted(self, cut: str) -> bool:
        piece = self.pieces[cut]
        return self.choice.narrows and self.choice.wants(piece.job, piece.place, piece.material, piece.run)


def bars_page(plan: Plan, choice: Choice, lengths: BothUnits, states: Mapping[int, str]) -> BarsPage:
    """
    Give one page of the bars that hold anything looked for; the page of what is pointed at, if anything is.

    Parameters
    ----------
    states
        How far the shop is with each bar, by its number; empty before the plan is released.
    """
    point = pointed_at(plan, choice)
    drawer = _Drawer(plan, choice, lengths, states, pieces_by_id(plan), unverified(plan), point)
    chosen = [alike for group in plan.groups for alike in _chosen(drawer, group)]
    at = next((place for place, alike in enumerate(chosen) if point[0] in alike.numbers), None)
    pages = max(-(-len(chosen) // CARDS_A_PAGE), 1)
    page = min(choice.page, pages) if at is None else at // CARDS_A_PAGE + 1
    shown = chosen[(page - 1) * CARDS_A_PAGE : page * CARDS_A_PAGE]
    bars = _bars_by_number(plan)
    numbers = [number for alike in chosen for number in alike.numbers]
    return BarsPage(
        shelves=tuple(_shelves(drawer, shown, bars)),
        page=page,
        pages=pages,
        bars=len(numbers),
        different=len(chosen),
        pieces=sum(
            drawer.wanted(cut.piece) or not choice.narrows
            for number in numbers
            for cut in bars[number].good_cuts
        ),
        at=0 if at is None else chosen[at].numbers[0],
    )


def _chosen(drawer: _Drawer, group: GroupPlan) -> Iterator[Alike]:
    """Give the alike bars that hold anything looked for; with it in the same places, where it is marked."""
    if not drawer.choice.narrows:
        yield from alike_bars(group)
        return
    bars = {bar.number: bar for bar in group.bars}
    for alike in alike_bars(group):
        places: dict[tuple[bool, ...], list[int]] = {}
        for number in alike.numbers:
            held = tuple(drawer.wanted(cut.piece) for cut in bars[number].cuts)
            places.setdefault(held, []).append(number)
        for held, numbers in places.items():
            if any(held):
                yield Alike(group, bars[numbers[0]], tuple(numbers))


def pointed_at(plan: Plan, choice: Choice) -> tuple[int, int]:
    """Give the number of the bar and of the cut that a choice points at; 0 for what it leaves open."""
    if not choice.piece:
        return choice.bar, 0
    spot = spots(plan).get(choice.piece)
    return (spot.bar.number, spot.order) if spot else (0, 0)


def _bars_by_number(plan: Plan) -> dict[int, PlannedBar]:
    return {bar.number: bar for group in plan.groups for bar in group.bars}


def _shelves(drawer: _Drawer, shown: list[Alike], bars: Mapping[int, PlannedBar]) -> Iterator[Shelf]:
    groups = list(dict.fromkeys(str(alike.group.material) for alike in shown))
    for name in groups:
        mine = [alike for alike in shown if str(alike.group.material) == name]
        cards = tuple(_card(drawer, alike, bars) for alike in mine)
        yield Shelf(material=name, part=part_words(mine[0].group), cards=cards)


def _card(drawer: _Drawer, alike: Alike, bars: Mapping[int, PlannedBar]) -> Card:
    numbers, model, lengths = alike.numbers, alike.bar, drawer.lengths
    many = len(numbers) > 1
    tail = tail_words(model, lengths)
    if many and model.fate is TailFate.OFFCUT:
        # Each of the alike bars gives an offcut with a tag of its own.
        tail = f"tail {lengths.said(model.tail)}, each back to the rack"
    said = list(bar_warnings(model, alike.group.saw, lengths))
    if verify := cuts_warning(unverified_cuts(model, drawer.unsure)):
        said.insert(0, verify)
    rows = tuple(_row(drawer, bars[number]) for number in _listed(drawer, numbers))
    states = [drawer.states[number] for number in numbers if number in drawer.states]
    # One scale a material: with one for all, the pieces of its short bars would be too narrow to label.
    longest = max(bar.length for bar in alike.group.bars)
    marked = drawer.point[1] if drawer.point[0] in numbers else 0
    start = "raw end first: trim it" if model.head else "clean end first: no trim"
    return Card(
        number=numbers[0],
        name=f"Bars {numbers_words(numbers)}" if many else f"Bar {numbers[0]}",
        count=len(numbers),
        source=source_words(drawer.plan, model, lengths),
        tail=tail,
        note=start,
        warnings=tuple(said),
        stretches=drawn(model, longest, lengths, wanted=drawer.wanted, marked=marked),
        stops=tuple(lengths.both(cut.stop) for cut in model.cuts),
        pieces=len(numbers) * len(model.cuts),
        stated=any(row.state for row in rows),
        tags=many and any(row.tail_tag for row in rows),
        rows=rows,
        more=len(numbers) - len(rows),
        done=_done_words(states),
    )


def _listed(drawer: _Drawer, numbers: tuple[int, ...]) -> tuple[int, ...]:
    """Give the bars of a card that are listed: the first ones, or all where one of them is pointed at."""
    return numbers if drawer.point[0] in numbers else numbers[:ROWS_A_CARD]


def _row(drawer: _Drawer, bar: PlannedBar) -> Row:
    return Row(
        number=bar.number,
        state=drawer.states.get(bar.number) or _state_of(bar),
        pieces=tuple(cut.piece for cut in bar.cuts),
        tail_tag=bar.tail_tag,
        marked=bar.number == drawer.point[0],
    )


def _done_words(states: Sequence[str]) -> str:
    """Say what has become of bars: ``2 of 7 cut, 1 missing``."""
    counts = Counter(state for state in states if state != BarState.OPEN.value)
    if len(counts) == 1 and counts.total() == len(states):
        return next(iter(counts))
    said = [f"{count} {state}" for state, count in sorted(counts.items())]
    if said:
        first, _, state = said[0].partition(" ")
        said[0] = f"{first} of {len(states)} {state}"
    return ", ".join(said)


def _state_of(bar: PlannedBar) -> str:
    """Say what has become of a bar before the plan: cut by the plan it goes on from, or not to be changed."""
    return "" if bar.state is PlannedState.OPEN else bar.state.value
