"""A group of a plan as JSON objects: one material's saw, bars, cost, proof, margins and goals."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, ClassVar

from pydantic import Field, StrictBool, StrictInt, model_validator

from nesting.domain.goals import GoalPrice
from nesting.domain.group_plan import GrowthOpen
from nesting.domain.mitre import MitrePlane, MitreSection
from nesting.domain.plan import GroupPlan, Margins, SpareCut
from nesting.domain.progress import StopReason
from nesting.domain.rules import SawRules
from nesting.exchange.json_numbers import Real
from nesting.exchange.json_values import refusal
from nesting.exchange.plan_bars import BarPart
from nesting.exchange.plan_certificate import CertificatePart
from nesting.exchange.plan_part import PlanPart
from nesting.exchange.plan_pieces import MaterialPart
from nesting.exchange.plan_purchase import AlternativePart
from nesting.exchange.plan_totals import TotalsPart
from nesting.money import money_text, read_money
from nesting.reports.answer import proof_words, share_text

_COUNT = r"^[0-9]{1,15}(\.[0-9]{1,4})?$"


class SawRulesPart(PlanPart):
    """Allowances of the saw the group is cut on."""

    domain: ClassVar[type] = SawRules

    kerf_nm: StrictInt
    """Width the blade takes at each stroke, nanometres."""
    head_trim_nm: StrictInt
    """Raw end to first clean face, its kerf included, nanometres."""
    tail_loss_nm: StrictInt
    """Last good face to the raw far end, last kerf included, nanometres."""
    keep_length_nm: StrictInt
    """A tail at least this long is an offcut, a shorter one scrap, nanometres."""
    grip_nm: StrictInt
    """Shortest length that can be held safely, nanometres."""
    step_nm: StrictInt
    """Setting step of the saw, nanometres; 0 when it cuts any length."""


class MitreSectionPart(PlanPart):
    """What of a channel's section matters at a mitre."""

    domain: ClassVar[type] = MitreSection

    width_nm: StrictInt
    """Extent of the section in the plane of the mitres, nanometres."""
    symmetric: StrictBool
    """Whether a piece may be turned end for end."""
    plane: MitrePlane
    """Flat, or standing."""


class MarginsPart(PlanPart):
    """How far reality may be off before the plan fails."""

    domain: ClassVar[type] = Margins

    kerf_nm: StrictInt | None = None
    """Largest kerf at which every bar still holds its cuts, nanometres; null when no bar has two."""
    bar_nm: StrictInt | None = None
    """How much shorter every new bar may be, nanometres; null when there is none."""
    growth_nm: StrictInt | None = None
    """How much every run may grow without costing more, nanometres; null when not looked for."""
    growth_cost: StrictInt | None = None
    """What the next step of growth would cost, in the unit of the alternative's cost."""
    growth_open: GrowthOpen | None = None
    """Why the growth is not known, or is only what is known at least; null when found or not looked for."""


class SpareCutPart(PlanPart):
    """A spare piece that a tail would give at no extra bar."""

    domain: ClassVar[type] = SpareCut

    bar: StrictInt
    """Number of the bar."""
    length_nm: StrictInt
    """Length of the spare piece, nanometres."""


class GoalPart(PlanPart):
    """A second goal before and after it was pursued, beside the cost of the bars."""

    domain: ClassVar[type] = GoalPrice
    told: ClassVar[Mapping[str, str]] = {
        "goal_price": "What the bars cost more for it, in the unit of the costs."
    }

    goal: str
    """What is counted: patterns, most open units, strokes, stop changes, slivers, bars until the urgent are
    cut."""
    cost_before: StrictInt
    """Cost without it, in ten-thousandths of the currency, or in bars when not priced."""
    cost_after: StrictInt
    """Cost with it, in the same unit."""
    value_before: StrictInt
    """The count without it."""
    value_after: StrictInt
    """The count with it."""
    lower_bound: StrictInt | None = None
    """No plan of this kind counts less; null when nothing is known."""

    @classmethod
    def items(cls, value: GoalPrice) -> Iterator[tuple[str, object]]:
        """End with the price."""
        yield from super().items(value)
        yield "goal_price", str(value.price)


class GroupPart(PlanPart):
    """The bars of one material."""

    domain: ClassVar[type] = GroupPlan
    told: ClassVar[Mapping[str, str]] = {
        "gap": "(cost - bound) / cost, per cent.",
        "proof": "How good the plan provably is.",
    }

    material: MaterialPart
    """What is cut here."""
    saw: SawRulesPart
    """The saw it is cut on."""
    cover_follows: StrictBool
    """Whether each bar is cut together with a cover bar of the same length."""
    mitre: MitreSectionPart | None = None
    """Section at the mitres, when pieces are mitred; metal is then counted along the centre line."""
    priced: StrictBool
    """Whether cost and bound are money; else they count bars bought."""
    cost: str = Field(pattern=_COUNT)
    """Cost of the plan: money when priced, else a number of bars."""
    bound: str = Field(pattern=_COUNT)
    """What no plan can go below, same unit as the cost."""
    ended: StopReason
    """Why the search ended."""
    seconds: Real
    """How long the search took, seconds."""
    totals: TotalsPart
    """Where the metal goes."""
    certificate: CertificatePart | None = None
    """What the bound rests on."""
    alternative: AlternativePart | None = None
    """The next-best purchase; missing in plans that do not say."""
    margins: MarginsPart | None = None
    """Margins of the bars; missing in plans that do not say."""
    spares: tuple[SpareCutPart, ...] = ()
    """Spare pieces that the tails would give, when they were asked for."""
    goals: tuple[GoalPart, ...] = ()
    """Every second goal that was asked for, with its price."""
    open_units: StrictInt | None = None
    """Most units half finished at once while these bars are cut in their order."""
    bars: tuple[BarPart, ...]
    """Bars in the order they are cut."""

    @model_validator(mode="after")
    def _whole_bars(self) -> GroupPart:
        for key in ("cost", "bound"):
            if not self.priced and not getattr(self, key).isdigit():
                raise refusal("not-a-whole-number", "Bars are counted in whole numbers.", under=key)
        return self

    def values(self) -> dict[str, Any]:
        """Give cost and bound in whole numbers."""
        whole = {key: self._whole(getattr(self, key)) for key in ("cost", "bound")}
        return {**super().values(), **whole}

    def _whole(self, said: str) -> int:
        return int(read_money(said)) if self.priced else int(said)

    @classmethod
    def items(cls, value: GroupPlan) -> Iterator[tuple[str, object]]:
        """Say cost and bound as people do, and how good they are."""
        for key, held in super().items(value):
            if key in ("cost", "bound") and isinstance(held, int):
                yield key, money_text(held) if value.priced else str(held)
            else:
                yield key, held
            if key == "bound":
                yield "gap", share_text(value.gap)
                yield "proof", proof_words(value, "")
