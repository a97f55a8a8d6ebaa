"""What can be read exactly and is hardly meant: slivers of pieces, saws without a kerf, bars for nothing."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from nesting.domain.request import Request
from nesting.errors import Where
from nesting.takeoff.sections import nose_at, whole_channel
from nesting.units import Length, Unit, inch_text, length_text, mm

# Common practice, no source: no fixture is this short, no blade this wide, no bar end wasted this far.
SHORTEST = mm(20)
MOST = {
    "kerf": mm(10),
    "head_trim": mm(200),
    "tail_loss": mm(200),
    "keep_length": mm(3000),
    "grip": mm(1000),
    "step": mm(10),
}
MOST_PIECES = 200_000
TOO_MANY = f"At most {MOST_PIECES} are planned at once; split the list."
"""Said of a list that asks for more, be it a workbook or a document."""
FREE_BAR = "The bar costs nothing; leave the price out if it is not known."
"""Said of a bar with a price of 0: every plan would take as many of it as it can."""


def pieces_too_many(request: Request) -> int:
    """Give the number of runs and pieces asked for where it is more than are planned at once, else 0."""
    pieces = sum(run.quantity for run in request.runs) + sum(line.quantity for line in request.piece_lines)
    return pieces if pieces > MOST_PIECES else 0


@dataclass(frozen=True, slots=True)
class ShortLine:
    """
    A run or a piece line too short to be meant.

    Parameters
    ----------
    length
        As it was read.
    sawn
        What is left of it to saw; 0 or less when the caps take all.
    """

    where: Where
    length: Length
    sawn: Length

    @property
    def words(self) -> str:
        """Say what was read and what it leaves."""
        left = f"{length_text(self.sawn, Unit.MM)} to saw" if self.sawn > 0 else "nothing to saw"
        return (
            f"Read as {length_text(self.length, Unit.MM)} ({inch_text(self.length)} in), which leaves {left}."
        )


def short_lines(request: Request) -> Iterator[ShortLine]:
    """Give the lines of which less is sawn than two kerfs, 20 mm, or the noses of the caps."""
    least = max(SHORTEST, Length(2 * request.saw.kerf))
    for where, length, sawn, room in _sawn(request):
        if sawn < least or sawn <= room:
            yield ShortLine(where, length, sawn)


def unlikely_allowance(field: str, value: Length) -> str:
    """Say why an allowance is one that no saw has; empty when it may be meant."""
    if field == "kerf" and value == 0:
        return "A kerf of 0 takes no metal, so bars come out short; check it."
    if value > MOST[field]:
        name = field.replace("_", " ").capitalize()
        read, most = (length_text(length, Unit.MM) for length in (value, MOST[field]))
        return f"{name} is read as {read}, more than {most}; check the unit."
    return ""


def _sawn(request: Request) -> Iterator[tuple[Where, Length, Length, Length]]:
    """Give each line's place, its length, what is sawn of it and what the noses of its caps fill."""
    for run in request.runs:
        family = request.family(run.family)
        if family is None or run.mitres:
            yield run.where, run.length, run.length, Length(0)
        else:
            noses = nose_at(family, run.left) + nose_at(family, run.right)
            yield run.where, run.length, whole_channel(run, family), Length(noses)
    for line in request.piece_lines:
        yield line.where, line.length, line.length, Length(0)
