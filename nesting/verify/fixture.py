"""One fixture of a run with the pieces that the plan lists for it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from nesting.domain.material import Family, Part
from nesting.domain.pieces import Piece
from nesting.domain.request import Request
from nesting.domain.runs import Run
from nesting.verify.due import noses_length
from nesting.verify.supply import saw_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Fixture:
    """
    One fixture of a run, with the pieces that are listed for it.

    Parameters
    ----------
    copy
        Which of the run's like fixtures, from 1.
    channels, covers
        Its pieces by part, from the left.
    """

    request: Request
    run: Run
    family: Family
    copy: int
    channels: Sequence[Piece]
    covers: Sequence[Piece]

    @classmethod
    def of(cls, request: Request, run: Run, family: Family, copy: int, pieces: Sequence[Piece]) -> Fixture:
        """Give the fixture with its pieces in order."""
        return cls(
            request=request,
            run=run,
            family=family,
            copy=copy,
            channels=_in_order(pieces, Part.CHANNEL),
            covers=_in_order(pieces, Part.COVER),
        )

    @property
    def where(self) -> str:
        """The place that violations of the whole fixture name."""
        return f"run {self.run.id}"

    @property
    def noses(self) -> int:
        """What the cap noses inside the channel take off its cover, nanometres."""
        return noses_length(self.family, self.run.left, self.run.right)

    def step(self, part: Part) -> int:
        """Give the setting step of the saw that cuts a part, nanometres; 0 for any length."""
        return saw_of(self.request, part).step

    def where_of(self, parts: Sequence[Piece]) -> str:
        """Give the place that violations of some pieces name: the piece when it is one, else the run."""
        return f"piece {parts[0].id}" if len(parts) == 1 else self.where


def _in_order(pieces: Sequence[Piece], part: Part) -> tuple[Piece, ...]:
    return tuple(sorted((p for p in pieces if p.material.part is part), key=lambda p: (p.section, p.id)))
