"""What an offcut can be, and what it cannot become."""

from __future__ import annotations

from enum import StrEnum

from nesting.errors import NestingError


class State(StrEnum):
    """
    Where an offcut stands.

    ``withdrawn`` never came about: the report it was born of was taken back. Its tag stays its bar's.
    """

    FREE = "free"
    RESERVED = "reserved"
    CUT = "cut"
    SCRAPPED = "scrapped"
    QUARANTINED = "quarantined"
    LOST = "lost"
    WITHDRAWN = "withdrawn"

    @property
    def held(self) -> bool:
        """Whether its length is in the store."""
        return self in (State.FREE, State.RESERVED, State.QUARANTINED)


class StockConflict(NestingError):
    """
    Something is not there for the taking.

    Parameters
    ----------
    thing
        Tag or shelf.
    state
        What it is instead.
    plan
        The plan that has it, empty when none.
    """

    def __init__(self, thing: str, state: str, *, plan: str = "", wanted: str = "") -> None:
        self.thing, self.state, self.plan = thing, state, plan
        holder = f" by plan {plan}" if plan else ""
        purpose = f"; it cannot be {wanted}" if wanted else ""
        super().__init__(f"{thing} is {state}{holder}{purpose}.")
