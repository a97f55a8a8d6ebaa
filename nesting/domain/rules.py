"""The saw: what each stroke and each bar end costs."""

from __future__ import annotations

from dataclasses import dataclass

from nesting.errors import ProblemError
from nesting.units import NO_LENGTH, Length, mm


@dataclass(frozen=True, slots=True, kw_only=True)
class SawRules:
    """
    Allowances of one saw with one blade.

    Parameters
    ----------
    kerf
        Width the blade takes at each stroke (k).
    head_trim
        Raw end to first clean face, its kerf included (h).
    tail_loss
        Last good face to the raw far end, last kerf included (e).
    keep_length
        A tail at least this long is an offcut, a shorter one is scrap.
    grip
        Shortest length that can be held safely (g).
    step
        The saw's setting step; 0 cuts any length exactly.
    """

    kerf: Length
    head_trim: Length = NO_LENGTH
    tail_loss: Length = NO_LENGTH
    keep_length: Length = NO_LENGTH
    grip: Length = NO_LENGTH
    step: Length = NO_LENGTH

    def __post_init__(self) -> None:
        """Refuse negative allowances."""
        for name in ("kerf", "head_trim", "tail_loss", "keep_length", "grip", "step"):
            if getattr(self, name) < 0:
                raise ProblemError(f"The saw's {name.replace('_', ' ')} is negative.")


# Used for values a request leaves out, each with a warning (common practice, no source).
DEFAULT_SAW = SawRules(
    kerf=mm(3), head_trim=mm(8), tail_loss=mm(8), keep_length=mm(400), grip=mm(150), step=NO_LENGTH
)
