"""What a plan that follows another one is made from, as one document between server, store and solver."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from nesting.domain.plan import GroupPlan, Plan, PlannedBar
from nesting.domain.report import ShopReport
from nesting.exchange import read_plan, read_shop_report, write_plan, write_shop_report
from nesting.planning.offers import SpoiledOffer


@dataclass(frozen=True, slots=True, kw_only=True)
class Follow:
    """
    A plan to go on from.

    Parameters
    ----------
    before
        The plan, with the rack and the bars that can be had now.
    report
        What the shop has said of it.
    freely
        Whether the open bars may all be planned afresh where that costs less.
    tags
        The rack's tag of each piece that came out wrong, by the piece.
    """

    before: Plan
    report: ShopReport
    freely: bool = False
    tags: Mapping[str, str] = field(default_factory=dict)


def write_follow(follow: Follow) -> str:
    """Give it as JSON text; ``read_follow`` gives the same one back."""
    return json.dumps(
        {
            "plan": write_plan(follow.before),
            "report": write_shop_report(follow.report),
            "freely": follow.freely,
            "tags": dict(follow.tags),
        }
    )


def read_follow(text: str) -> Follow:
    """Give what ``write_follow`` wrote."""
    tree = json.loads(text)
    return Follow(
        before=read_plan(tree["plan"]),
        report=read_shop_report(tree["report"]),
        freely=tree["freely"],
        tags=tree["tags"],
    )


@dataclass(frozen=True, slots=True)
class NewTags:
    """
    The service's own tags instead of those a re-plan gives, which two re-plans of one plan would share.

    Parameters
    ----------
    names
        From the re-plan's tag to the service's.
    pieces
        The service's tag of what came out of each piece; where it is of no use, no bar names it.
    """

    names: Mapping[str, str]
    pieces: Mapping[str, str] = field(default_factory=dict)

    @classmethod
    def of(cls, follow: Follow, made: Plan, prefix: str) -> NewTags:
        """Find them: a spoiled piece has a tag on the rack, a bar that was there before keeps its tail's."""
        before = {bar.tail_tag for group in follow.before.groups for bar in group.bars}
        names = {}
        for group in made.groups:
            for bar in group.bars:
                names.update(
                    {one.tag: follow.tags[one.piece] for one in bar.spoiled if one.piece in follow.tags}
                )
                if bar.tail_tag and bar.tail_tag not in before:
                    names[bar.tail_tag] = f"{prefix}-{bar.number}"
        return cls({old: new for old, new in names.items() if old}, follow.tags)

    def in_plan(self, plan: Plan) -> Plan:
        """Give the plan with these tags."""
        offcuts = tuple(replace(one, tag=self._new(one.tag)) for one in plan.request.offcuts)
        groups = tuple(self._in_group(group) for group in plan.groups)
        return replace(plan, request=replace(plan.request, offcuts=offcuts), groups=groups)

    def in_offer(self, offer: SpoiledOffer) -> SpoiledOffer:
        """Give the offer with its tag on the rack."""
        return replace(offer, tag=self.pieces.get(offer.piece, self._new(offer.tag)))

    def _in_group(self, group: GroupPlan) -> GroupPlan:
        return replace(group, bars=tuple(self._in_bar(bar) for bar in group.bars))

    def _in_bar(self, bar: PlannedBar) -> PlannedBar:
        spoiled = tuple(replace(one, tag=self._new(one.tag)) for one in bar.spoiled)
        source = self._new(bar.source) if bar.offcut else bar.source
        return replace(bar, source=source, tail_tag=self._new(bar.tail_tag), spoiled=spoiled)

    def _new(self, tag: str) -> str:
        return self.names.get(tag, tag)
