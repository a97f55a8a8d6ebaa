"""Where a plan's metal goes, as a JSON object."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import ClassVar

from pydantic import StrictInt

from nesting.domain.plan import Totals
from nesting.exchange.plan_part import PlanPart
from nesting.reports.answer import share_text


class TotalsPart(PlanPart):
    """Where the metal goes; used = good + kerf + trim + returned + scrap, exactly."""

    domain: ClassVar[type] = Totals
    told: ClassVar[Mapping[str, str]] = {
        "yield": "good / (used - returned), per cent.",
        "waste": "(kerf + trim + scrap) / used, per cent.",
    }

    bars: StrictInt
    """Bars opened, offcuts included."""
    used_nm: StrictInt
    """Sum of the opened bars' lengths, nanometres."""
    good_nm: StrictInt
    """Sum of the pieces' lengths, nanometres."""
    kerf_nm: StrictInt
    """Chips of the strokes after the head trims, nanometres."""
    trim_nm: StrictInt
    """Head trims, nanometres."""
    returned_nm: StrictInt
    """Tails kept as offcuts, nanometres."""
    scrap_nm: StrictInt
    """Tails thrown away, nanometres."""

    @classmethod
    def items(cls, value: Totals) -> Iterator[tuple[str, object]]:
        """End with yield and waste."""
        yield from super().items(value)
        yield "yield", share_text(value.yield_share)
        yield "waste", share_text(value.waste_share)
