"""Everything one bar's page shows: what to take, how to cut it, what to mind, what became of it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from api.pages.plan.drawing import Stretch, drawn
from api.pages.saw.outcome import Result
from api.pages.saw.strokes import Said, Stroke, said_of, strokes_of
from api.pages.saw.tail import Tail, tail_of
from nesting.domain.pieces import Piece
from nesting.domain.plan import GroupPlan, Plan, PlannedBar
from nesting.reports.bar_warnings import bar_warnings
from nesting.reports.cautions import TWO_PEOPLE, saw_cautions
from nesting.reports.lengths import BothUnits
from nesting.reports.rooms import rooms_by_piece
from nesting.reports.slope_words import slope_notes
from nesting.reports.tables import part_words
from nesting.reports.unverified import cuts_warning, unverified, unverified_cuts
from nesting.reports.whereabouts import bars_in_order, pieces_by_id


@dataclass(frozen=True, slots=True)
class Source:
    """
    What to take, as the store has it now.

    Parameters
    ----------
    tag
        Tag of the offcut; empty for a new bar.
    place, lot
        Where it lies, and of which finish lot it is; empty where nobody has said.
    """

    tag: str = ""
    place: str = ""
    lot: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """
    One bar at the saw.

    Parameters
    ----------
    number, count
        Number of the bar, and how many the plan has.
    place
        Which of them it is; its number too, as long as no bar of an earlier plan is left out.
    before, behind
        Numbers of the bars beside it; None at either end.
    trim
        What comes off the raw end before the first piece; None where the end is clean.
    two_people
        Whether the bar is too long to be carried by one.
    far_end
        How the bar's far end is.
    saw
        The saw's settings that the plan assumes, as one line.
    notes
        What stop, face and tail of a bar with mitred pieces are, in the words of the printed sheets.
    """

    number: int
    count: int
    place: int
    before: int | None
    behind: int | None
    material: str
    part: str
    lot: str
    source: Source
    length: Said
    two_people: bool
    trim: Said | None
    far_end: str
    saw: str
    notes: tuple[str, ...]
    stretches: tuple[Stretch, ...]
    strokes: tuple[Stroke, ...]
    tail: Tail
    warnings: tuple[str, ...]
    cautions: tuple[str, ...]
    result: Result

    @property
    def last(self) -> int:
        """Number of the last cut; the tail is the step behind it."""
        return len(self.strokes)

    @property
    def open(self) -> bool:
        """Whether the bar is still to be cut."""
        return self.result.open


class Sheets:
    """The bars of one plan at the saw; what all of them share is worked out once."""

    def __init__(self, plan: Plan, lengths: BothUnits) -> None:
        self._lengths = lengths
        self._bars = {bar.number: (group, bar) for group, bar in bars_in_order(plan)}
        self._numbers = tuple(self._bars)
        self._pieces: Mapping[str, Piece] = pieces_by_id(plan)
        self._rooms = rooms_by_piece(plan)
        self._unsure = unverified(plan)

    @property
    def numbers(self) -> tuple[int, ...]:
        """Give the numbers of the bars in the order in which they are cut."""
        return self._numbers

    def planned(self, number: int) -> tuple[GroupPlan, PlannedBar]:
        """
        Give a bar with its group.

        Raises
        ------
        KeyError
            When the plan has no such bar.
        """
        return self._bars[number]

    def sheet(self, number: int, source: Source, result: Result) -> Sheet:
        """
        Set out one bar.

        Raises
        ------
        KeyError
            When the plan has no such bar.
        """
        group, bar = self._bars[number]
        lengths, numbers = self._lengths, self.numbers
        grip = lengths.first(group.saw.grip)
        place = numbers.index(number)
        return Sheet(
            number=number,
            count=len(numbers),
            place=place + 1,
            before=numbers[place - 1] if place else None,
            behind=numbers[place + 1] if place + 1 < len(numbers) else None,
            material=group.material.name,
            part=part_words(group),
            lot=_lot_words(source.lot or group.material.lot, bound=bool(group.material.lot)),
            source=source,
            length=said_of(bar.length, lengths),
            two_people=bar.length > TWO_PEOPLE,
            trim=said_of(bar.head, lengths) if bar.head else None,
            far_end="raw end" if bar.tail_loss else "clean end",
            saw=_saw_words(group, lengths),
            notes=slope_notes((bar,)),
            stretches=drawn(bar, int(bar.length), lengths),
            strokes=tuple(strokes_of(bar, self._pieces, self._rooms, self._unsure, grip, lengths)),
            tail=tail_of(group, bar, lengths),
            warnings=self._warnings(group, bar),
            cautions=saw_cautions(group.material.part, bar.length, cover_follows=group.cover_follows),
            result=result,
        )

    def _warnings(self, group: GroupPlan, bar: PlannedBar) -> tuple[str, ...]:
        verify = cuts_warning(unverified_cuts(bar, self._unsure))
        said = bar_warnings(bar, group.saw, self._lengths)
        return (verify, *said) if verify else said


def _lot_words(lot: str, *, bound: bool) -> str:
    if not lot:
        return "any lot; never two in one room"
    return f"lot {lot}, no other" if bound else f"lot {lot}"


def _saw_words(group: GroupPlan, lengths: BothUnits) -> str:
    saw = group.saw
    return (
        f"Kerf {lengths.both(saw.kerf)}, head trim {lengths.both(saw.head_trim)}, "
        f"keep tails from {lengths.both(saw.keep_length)}, hold at least {lengths.both(saw.grip)}"
    )
