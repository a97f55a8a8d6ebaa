"""The certificate of a bound as a JSON object."""

from __future__ import annotations

from typing import ClassVar

from pydantic import StrictInt

from nesting.domain.progress import Certificate
from nesting.exchange.json_numbers import Whole
from nesting.exchange.plan_part import PlanPart


class CertificatePart(PlanPart):
    """What the bound rests on, checkable without the solver."""

    domain: ClassVar[type] = Certificate

    bound: StrictInt
    """Claimed lower bound, in ten-thousandths of the currency, or in bars when not priced."""
    dual_bound: StrictInt
    """The bound that the duals alone give, same unit."""
    room_bound: StrictInt = 0
    """What the cheapest whole bars cost that have room for all pieces and kerfs, same unit; 0: not said."""
    closed_by: str = ""
    """The search that raised the bound above both, which has to be trusted; empty when none did."""
    scale: Whole
    """Units of the duals per unit of cost."""
    duals: tuple[Whole, ...]
    """Price of one piece of each distinct length, longest first, in units of 1/scale."""
    supply_duals: tuple[Whole, ...] = ()
    """Price of each kind of bar: stock lines in the request's order, then offcuts, same units."""
    short_dual: Whole = 0
    """Price of one nanometre left out for want of stock, same units."""
