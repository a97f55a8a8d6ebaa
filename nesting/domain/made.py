"""What the shop has made of a bar: how far it is, what came out wrong, where it is damaged."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from nesting.errors import ProblemError
from nesting.units import Length, mm

# Over-measure of bars sold in fixed lengths: up to this length, this much more and nothing less
# (EN 755-9, fixed lengths; the figures are from memory).
_OVER_MEASURE = ((mm(2000), mm(5)), (mm(5000), mm(7)))
_OVER_MEASURE_OF_LONGER = mm(10)
# A tail is read off a tape to this much (common practice, no source).
TAPE = mm(1)


class BarState(StrEnum):
    """
    How far the shop is with a bar.

    *Open* is still to be cut and may be planned anew; *frozen* is still to be cut, but stays as it is;
    *done* is cut; *stopped* was given up after some of its cuts, and what was left became offcuts.
    """

    OPEN = "open"
    FROZEN = "frozen"
    DONE = "done"
    STOPPED = "stopped"

    @property
    def cut(self) -> bool:
        """Whether nothing more will be cut from the bar."""
        return self in (BarState.DONE, BarState.STOPPED)


@dataclass(frozen=True, slots=True, order=True)
class Span:
    """A damaged stretch of a bar, measured from the end that leads at the saw."""

    start: Length
    end: Length

    def __post_init__(self) -> None:
        """Refuse stretches without length or before the bar."""
        if not 0 <= self.start < self.end:
            raise ProblemError("A damaged stretch must begin on the bar and end behind its beginning.")


@dataclass(frozen=True, slots=True)
class Spoiled:
    """
    A piece of a cut bar that came out wrong, and is asked for again.

    Parameters
    ----------
    length
        What came out; None when nothing of it can be used, or when it was never cut.
    tag
        Tag under which it went back to the rack, or was cut into other pieces; empty when it is scrap.
    """

    piece: str
    length: Length | None = None
    tag: str = ""


@dataclass(frozen=True, slots=True)
class Zone:
    """
    A clear stretch of a stopped bar.

    Parameters
    ----------
    start
        From the end that leads at the saw.
    tag
        Its tag as an offcut; empty when it is scrap.
    """

    start: Length
    length: Length
    tag: str = ""


def over_measure(length: Length) -> Length:
    """Give by how much a new bar of a fixed nominal length may be longer (EN 755-9, from memory)."""
    return next((more for limit, more in _OVER_MEASURE if length <= limit), _OVER_MEASURE_OF_LONGER)
