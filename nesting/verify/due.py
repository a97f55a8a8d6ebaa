"""What a channel has to come to by its run, and what the caps take off it and off its cover."""

from __future__ import annotations

from dataclasses import dataclass

from nesting.domain.material import CapStyle, Family
from nesting.domain.runs import EndCondition, LengthKind, Run


@dataclass(frozen=True, slots=True)
class Due:
    """
    What one part of one fixture has to come to.

    Parameters
    ----------
    exact
        Its length by the formulas, joint gaps included, nanometres.
    step
        The saw's setting step; 0 for any length.
    down
        Whether rounding goes down only, as for openings and covers.
    """

    exact: int
    step: int
    down: bool

    def allows(self, length: int) -> bool:
        """Tell whether a length is this one up to rounding."""
        off = self.exact - length
        if not self.step:
            return off == 0
        return 0 <= off < self.step if self.down else abs(2 * off) <= self.step


def channel_due(run: Run, family: Family, step: int) -> Due:
    """Give the channel length A of one fixture: opening less clearances, less capped ends."""
    total = int(run.length) - caps_length(run, family)
    if run.kind is LengthKind.OPENING:
        for clearance in (run.clearance_left, run.clearance_right):
            total -= family.clearance if clearance is None else clearance
    return Due(total, step, down=run.kind is LengthKind.OPENING)


def caps_length(run: Run, family: Family) -> int:
    """Give what the caps outside the channel take off a run's measured size, nanometres."""
    if run.kind is LengthKind.CHANNEL or family.cap_style is CapStyle.INNER:
        return 0
    return family.cap_thickness * _caps(run.left, run.right)


def noses_length(family: Family, left: EndCondition, right: EndCondition) -> int:
    """Give how far the caps at two ends reach into the channel together, nanometres."""
    return 0 if family.cap_style is CapStyle.FLUSH else family.nose * _caps(left, right)


def _caps(left: EndCondition, right: EndCondition) -> int:
    return [left, right].count(EndCondition.SOLID_CAP) + [left, right].count(EndCondition.HOLED_CAP)
