"""All bars of a plan in the order in which they are cut, and how far the shop is with each."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby

from api.pages.saw.outcome import STATE_WORDS
from api.pages.saw.reading import AtSaw
from api.pages.saw.strokes import Said, said_of
from api.plans.states import BarState
from nesting.reports.tables import part_words
from nesting.reports.whereabouts import bars_in_order


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One bar of the list; ``tag`` is the offcut it is, empty for a new one."""

    number: int
    tag: str
    length: Said
    pieces: int
    state: BarState
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """The bars of one material."""

    material: str
    part: str
    rows: tuple[Row, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Overview:
    """
    The list of bars.

    Parameters
    ----------
    reported, count
        How many bars are reported on, and how many there are.
    next
        Number of the bar to cut next; None when none is left.
    """

    sections: tuple[Section, ...]
    reported: int
    count: int
    next: int | None


def overview(at: AtSaw) -> Overview:
    """Give the list of a plan's bars."""
    pairs = [(group, bar) for group, bar in bars_in_order(at.plan) if bar.number in at.states]
    sections = []
    for group, members in groupby(pairs, key=lambda pair: pair[0]):
        rows = tuple(
            Row(
                number=bar.number,
                tag=bar.source if bar.offcut else "",
                length=said_of(bar.length, at.lengths),
                pieces=len(bar.cuts),
                state=at.states[bar.number],
                words=STATE_WORDS[at.states[bar.number]],
            )
            for _, bar in members
        )
        sections.append(Section(material=group.material.name, part=part_words(group), rows=rows))
    return Overview(
        sections=tuple(sections), reported=at.reported, count=len(at.states), next=at.next_open(0)
    )
