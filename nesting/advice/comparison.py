"""The answers of a comparison."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from nesting.domain.material import CoverMode, Material
from nesting.units import Length


class Choice(StrEnum):
    """Which lengths a mix may buy."""

    ALL = "all lengths on offer"
    SINGLE = "one length"
    UNLISTED = "with an unlisted length"


@dataclass(frozen=True, slots=True, kw_only=True)
class Mix:
    """
    The cheapest purchase of one material from some lengths.

    Parameters
    ----------
    lengths
        Lengths it may buy.
    bars
        (length, bars to order), shortest first.
    cost
        In ten-thousandths of the currency, or in bars when there are no prices.
    proved
        Whether it is proved least.
    assumed
        Price assumed for an unlisted length; None when every price is listed.
    bound
        Proven least cost, where the cost itself is not proved; None in comparisons that do not say.
    left_out
        Pieces for which the bars on offer do not suffice. The cost is that of the others, so nothing is
        proved of it: a purchase for all pieces would cost more.
    """

    material: Material
    choice: Choice
    lengths: tuple[Length, ...]
    bars: tuple[tuple[Length, int], ...]
    cost: int
    proved: bool
    priced: bool
    assumed: int | None = None
    bound: int | None = None
    left_out: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Grouping:
    """
    What ordering and cutting in parts of the building costs.

    Parameters
    ----------
    level
        ``whole``, ``floor``, ``unit``.
    parts
        How many parts are planned on their own.
    bars, cost
        Bars ordered, and what they cost; cost in bars when nothing is priced.
    costs
        (material, cost) of each, in the order of their names.
    bound, left_out
        Proven least cost, and pieces left out, as in a mix.
    """

    level: str
    parts: int
    bars: int
    cost: int
    proved: bool
    costs: tuple[tuple[Material, int], ...]
    bound: int | None = None
    left_out: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class CoverChoice:
    """
    One way to cut a family's covers.

    Parameters
    ----------
    channels, covers
        Bars ordered of each.
    cost
        Of both together.
    bound
        Proven least cost, as in a mix.
    """

    family: str
    finish: str
    mode: CoverMode
    channels: int
    covers: int
    cost: int
    proved: bool
    priced: bool
    bound: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Comparison:
    """
    Everything compared.

    Parameters
    ----------
    cut_short
        Whether time ran out, so that some rows are missing.
    """

    currency: str
    mixes: tuple[Mix, ...]
    groupings: tuple[Grouping, ...]
    covers: tuple[CoverChoice, ...]
    cut_short: bool = False

    def best_of(self, material: Material) -> Mix | None:
        """Give the cheapest mix of the lengths on offer."""
        return next((m for m in self.mixes if m.material == material and m.choice is Choice.ALL), None)
