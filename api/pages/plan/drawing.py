"""A bar to scale as shares of a drawing's width: every stretch with its label, and where the label fits."""

from __future__ import annotations

from collections.abc import Callable, Container
from dataclasses import dataclass

from nesting.domain.plan import PlannedBar
from nesting.reports.bar_picture import Segment, SegmentKind, bar_segments
from nesting.reports.lengths import BothUnits

# Pixels that a drawing is wide at least on a phone, a tablet and a desk, with the class of what is
# written on it from there on.
_ROOM = ((270, ""), (520, "from-tablet"), (800, "from-desk"))
_CHARACTER, _MARGIN = 7.4, 6.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """
    One stretch of a drawn bar.

    Parameters
    ----------
    x, width
        In per cent of the drawing.
    label, fits
        What is written on it; the class of the windows in which it fits, None where it never does.
    order, piece
        Number of the cut and id of a piece it frees; 0 and empty for anything but a piece.
    wanted, marked
        Whether it is among what is looked for, or is what is pointed at.
    """

    kind: str
    x: str
    width: str
    label: str
    fits: str | None
    said: str
    order: int = 0
    piece: str = ""
    wanted: bool = False
    marked: bool = False


def drawn(
    bar: PlannedBar,
    longest: int,
    lengths: BothUnits,
    *,
    wanted: Callable[[str], bool] = lambda _: False,
    marked: int = 0,
) -> tuple[Stretch, ...]:
    """
    Give the stretches of a bar from its leading end.

    Parameters
    ----------
    longest
        Length that fills the drawing, nanometres.
    wanted
        Whether a piece, by its id, is among what is looked for.
    marked
        Number of the cut that is pointed at; 0 for none.
    """
    wrong = {one.piece for one in bar.spoiled}
    return tuple(_stretch(part, longest, lengths, wanted, marked, wrong) for part in bar_segments(bar))


def _stretch(
    segment: Segment,
    longest: int,
    lengths: BothUnits,
    wanted: Callable[[str], bool],
    marked: int,
    wrong: Container[str],
) -> Stretch:
    label, said = _words(segment, lengths)
    share = segment.length / longest
    piece = segment.label if segment.kind is SegmentKind.PIECE else ""
    kind = segment.kind.value
    if piece and piece in wrong:
        # A class more for the drawing, and a word for whoever does not see it.
        kind, label, said = f"{kind} wrong", f"{label} wrong", f"{said}, came out wrong"
    return Stretch(
        kind=kind,
        x=f"{100 * segment.start / longest:.2f}",
        width=f"{100 * share:.2f}",
        label=label,
        fits=_fits(label, share),
        said=said.replace("\N{NO-BREAK SPACE}", " "),
        order=segment.order,
        piece=piece,
        wanted=bool(piece) and wanted(piece),
        marked=bool(marked) and segment.order == marked,
    )


def _words(segment: Segment, lengths: BothUnits) -> tuple[str, str]:
    """Give what is written on a stretch, and what is said of it."""
    kind = segment.kind
    figure = lengths.figure(segment.shown)
    if kind is SegmentKind.PIECE:
        marks = segment.marks or ("", "")
        label = f"{marks[0]} {figure} {marks[1]}".strip()
        return label, f"cut {segment.order}: {lengths.both(segment.shown)}, {segment.label}"
    if kind is SegmentKind.OFFCUT:
        return f"keep {figure}", f"offcut to keep, {lengths.both(segment.length)}"
    if kind is SegmentKind.SCRAP:
        return figure, f"scrap, {lengths.both(segment.length)}"
    return "", f"{kind.value}, {lengths.first(segment.length)}"


def _fits(label: str, share: float) -> str | None:
    need = len(label) * _CHARACTER + _MARGIN
    return next((name for room, name in _ROOM if label and need <= share * room), None)
