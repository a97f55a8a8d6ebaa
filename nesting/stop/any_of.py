"""Several criteria together."""

from __future__ import annotations

from nesting.domain.progress import Progress, StopReason
from nesting.stop.criterion import Stop


class AnyOf:
    """
    Ends the search as soon as one of the criteria does, with the first one's reason.

    Parameters
    ----------
    criteria
        Asked in this order.
    """

    __slots__ = ("criteria",)

    def __init__(self, *criteria: Stop) -> None:
        self.criteria = criteria

    def __call__(self, now: Progress) -> StopReason | None:
        """Give the first reason there is."""
        for criterion in self.criteria:
            if (why := criterion(now)) is not None:
                return why
        return None
