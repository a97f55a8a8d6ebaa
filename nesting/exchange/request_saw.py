"""A saw's allowances as a JSON object."""

from __future__ import annotations

from dataclasses import replace
from typing import ClassVar

from nesting.domain.rules import DEFAULT_SAW, SawRules
from nesting.exchange.json_lengths import MaybeAllowance
from nesting.exchange.request_part import RequestPart


class SawPart(RequestPart):
    """Allowances of a saw with its blade; what is missing is taken from common practice, with a warning."""

    domain: ClassVar[type] = SawRules

    kerf: MaybeAllowance = None
    """Width the blade takes at each stroke; 3 mm when missing."""
    head_trim: MaybeAllowance = None
    """Raw end to first clean face, its kerf included; 8 mm when missing."""
    tail_loss: MaybeAllowance = None
    """Last good face to the raw far end, last kerf included; 8 mm when missing."""
    keep_length: MaybeAllowance = None
    """A tail at least this long is an offcut, a shorter one scrap; 400 mm when missing."""
    grip: MaybeAllowance = None
    """Shortest length that can be held safely; 150 mm when missing."""
    step: MaybeAllowance = None
    """Setting step of the saw; 0 or missing when it cuts any length."""

    def missing(self) -> list[str]:
        """Give the names of the values that a default stands in for; a saw without step has none."""
        return [n for n in type(self).model_fields if n != "step" and getattr(self, n) is None]

    def to_domain(self) -> SawRules:
        """Give the saw, with common practice for what is missing."""
        given = {n: getattr(self, n) for n in type(self).model_fields}
        return replace(DEFAULT_SAW, **{n: value for n, value in given.items() if value is not None})
