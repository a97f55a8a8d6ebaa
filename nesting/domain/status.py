"""How sure a size is, and what a plan is for."""

from __future__ import annotations

from enum import StrEnum


class Status(StrEnum):
    """
    How sure the size of a run or a piece is.

    *Measured* on site; from a *drawing*; to be *verified* on site before it is cut; on *hold*, not to
    be counted on at all.
    """

    MEASURED = "measured"
    DRAWING = "drawing"
    VERIFY = "verify"
    HOLD = "hold"


class Purpose(StrEnum):
    """What a plan is for: to order bars early, or to cut them."""

    ORDER = "order"
    CUT = "cut"

    def takes(self, status: Status) -> bool:
        """Whether such a size is planned: an order takes all but holds, a cut plan measured ones alone."""
        return status is Status.MEASURED if self is Purpose.CUT else status is not Status.HOLD
