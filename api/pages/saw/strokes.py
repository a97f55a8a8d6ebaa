"""One stroke of the saw after the other: what the stop is set to, how the piece lies, what to mind."""

from __future__ import annotations

from collections.abc import Container, Iterator, Mapping
from dataclasses import dataclass, replace

from nesting.domain.pieces import Piece
from nesting.domain.plan import Cut, PlannedBar
from nesting.reports.bar_warnings import without_last_stroke
from nesting.reports.ends import ends_words
from nesting.reports.lengths import BothUnits
from nesting.reports.slope_words import lies_words, marked
from nesting.reports.unverified import MARK
from nesting.units import Length


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """
    A length in the tablet's unit, and in the other one in smaller type.

    Parameters
    ----------
    figure, unit
        The first one taken apart, for type so large that only the figure may have it.
    """

    first: str
    second: str
    figure: str
    unit: str

    @property
    def size(self) -> str:
        """Say how wide the figure is: ``short``, ``middle``, ``long`` or ``longest``."""
        steps = ((4, "short"), (6, "middle"), (9, "long"))
        return next((name for most, name in steps if len(self.figure) <= most), "longest")


@dataclass(frozen=True, slots=True, kw_only=True)
class Stroke:
    """
    One stroke that frees one piece.

    Parameters
    ----------
    order
        From 1, in the order of the saw.
    stop, face
        Stop setting, and where the piece's far face lies from the first clean one.
    same_stop
        Whether the stop stays where the stroke before had it.
    stroke
        Whether there is a stroke at all; False where the last piece ends with the bar.
    mark
        Number between the marks of its mitred faces, as it is drawn.
    lies, to_stop
        Mitre angles as it lies, and which end goes to the stop; empty for a square piece.
    loud
        What must be minded before the stroke, each in a word and a sentence.
    """

    order: int
    piece: str
    job: str
    place: str
    stop: Said
    face: Said
    same_stop: bool
    stroke: bool
    mark: str
    lies: str
    to_stop: str
    ends: str
    cover: str
    held: bool
    turned: bool
    loud: tuple[tuple[str, str], ...]

    @property
    def measure_first(self) -> bool:
        """Whether the piece is the first one at a new stop and is measured before the next stroke."""
        return self.stroke and not self.same_stop


def strokes_of(
    bar: PlannedBar,
    pieces: Mapping[str, Piece],
    rooms: Mapping[str, str],
    unsure: Container[str],
    grip: str,
    lengths: BothUnits,
) -> Iterator[Stroke]:
    """
    Give the strokes of a bar in saw order.

    Parameters
    ----------
    rooms
        Where each piece goes, by its id.
    unsure
        Ids of pieces whose size nobody has verified on site.
    grip
        Shortest length that can be held, as it is said.
    """
    before: Cut | None = None
    last = len(bar.cuts)
    for order, cut in enumerate(bar.cuts, start=1):
        piece = pieces[cut.piece]
        cover = piece.cover_length
        yield Stroke(
            order=order,
            piece=cut.piece,
            job=piece.job,
            place=rooms[cut.piece],
            stop=said_of(cut.stop, lengths),
            face=said_of(cut.face, lengths),
            same_stop=before is not None and before.stop == cut.stop,
            stroke=not (order == last and without_last_stroke(bar)),
            mark=marked(cut, str(order)),
            lies=lies_words(replace(cut, turned=False)),
            to_stop=_to_stop(cut),
            ends=ends_words(piece),
            cover="" if cover is None else lengths.both(cover),
            held=cut.held,
            turned=cut.turned,
            loud=tuple(_loud(cut, grip, unsure=cut.piece in unsure, sliver=bar.sliver and order == last)),
        )
        before = cut


def said_of(length: int, lengths: BothUnits) -> Said:
    """Give a length in both units."""
    first = lengths.first(Length(length))
    figure, _, unit = first.rpartition("\N{NO-BREAK SPACE}")
    return Said(first=first, second=lengths.second(Length(length)), figure=figure, unit=unit)


def _to_stop(cut: Cut) -> str:
    """Say which end of a mitred piece goes to the stop: the one that lies ahead on the bar."""
    if not cut.sloped:
        return ""
    return "RIGHT end to the stop" if cut.turned else "left end to the stop"


def _loud(cut: Cut, grip: str, *, unsure: bool, sliver: bool) -> Iterator[tuple[str, str]]:
    if unsure:
        yield MARK, "Size not verified on site. Do not cut it before it is measured."
    if not cut.held:
        yield (
            "CLAMP",
            f"Piece and rest are both shorter than {grip}: hands off, clamp with a shaped block and a stop.",
        )
    if sliver:
        yield "HALF IN AIR", "Less than a kerf of metal is left: clamp both sides, feed slowly."
