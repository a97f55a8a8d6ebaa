"""Where the metal of a group or of a plan goes."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Totals:
    """
    Where the metal goes; used = good + kerf + trim + returned + scrap, exactly.

    Parameters
    ----------
    used
        Sum of the opened bars' lengths.
    good
        Sum of the pieces' lengths.
    kerf, trim
        Strokes after the head trim; head trims.
    returned, scrap
        Tails kept as offcuts; tails thrown away.
    """

    bars: int = 0
    used: int = 0
    good: int = 0
    kerf: int = 0
    trim: int = 0
    returned: int = 0
    scrap: int = 0

    @property
    def yield_share(self) -> float:
        """Give good / (used - returned), 0 when nothing was used up."""
        spent = self.used - self.returned
        return self.good / spent if spent else 0.0

    @property
    def waste_share(self) -> float:
        """Give (kerf + trim + scrap) / used, 0 when nothing was used."""
        return (self.kerf + self.trim + self.scrap) / self.used if self.used else 0.0

    def __add__(self, other: Totals) -> Totals:
        """Add two accounts."""
        return Totals(
            bars=self.bars + other.bars,
            used=self.used + other.used,
            good=self.good + other.good,
            kerf=self.kerf + other.kerf,
            trim=self.trim + other.trim,
            returned=self.returned + other.returned,
            scrap=self.scrap + other.scrap,
        )
