r"""Slopes as they are drawn on sheets: ``/``, ``|`` and ``\`` beside the piece they belong to."""

from __future__ import annotations

from collections.abc import Sequence

from nesting.domain.mitre import SQUARE
from nesting.domain.pieces import Piece
from nesting.domain.plan import Cut, PlannedBar
from nesting.takeoff.mitres import slope_mark
from nesting.units import mm_text


def marked(cut: Cut, said: str) -> str:
    r"""Put the marks of a mitred piece's faces round a text: ``| OY-101-7 \``; other texts stay."""
    if not cut.sloped:
        return said
    return f"{slope_mark(cut.slope_start)} {said} {slope_mark(cut.slope_end)}"


def lies_words(cut: Cut) -> str:
    """Say how a mitred piece lies: its angles, and whether it is turned; empty for a square one."""
    if not cut.sloped:
        return ""
    angles = [
        f"{mm_text(round(abs(slope) * 10**6))}° {slope_mark(slope)}"
        for slope in (cut.slope_start, cut.slope_end)
        if slope != SQUARE
    ]
    return f"mitre {' and '.join(angles)}{', turned' if cut.turned else ''}"


def slope_notes(bars: Sequence[PlannedBar]) -> tuple[str, ...]:
    """
    Say what must be known at the saw of bars with mitred pieces; empty for bars with square ones only.

    Parameters
    ----------
    bars
        At least one, with the same stops and slopes; which pieces lie turned is each bar's own.
    """
    cuts = bars[0].cuts
    if not any(cut.sloped for cut in cuts):
        return ()
    said = ["Stop = long point. / and \\ are the faces as they lie, lit face up. Far face: centre line."]
    if any(cut.turned for bar in bars for cut in bar.cuts):
        said.append("TURNED: the piece lies end for end, its right end at the left.")
    if cuts[-1].slope_end != SQUARE:
        said.append("The tail's near end stays sloped; its length is that of its shorter edge.")
    return tuple(said)


def end_words(piece: Piece) -> tuple[str, str]:
    """Give a piece's left and right end in words, a mitred one with its slope mark and angle."""
    words = []
    for end, slope in ((piece.left, piece.slope_left), (piece.right, piece.slope_right)):
        angle = f" {mm_text(round(abs(slope) * 10**6))} {slope_mark(slope)}" if slope != SQUARE else ""
        words.append(f"{end.value}{angle}")
    return words[0], words[1]
