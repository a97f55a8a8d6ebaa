"""How a cover that is cut together with its channel comes to its own, shorter length."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping

from nesting.domain.material import CoverMode
from nesting.domain.pieces import Piece
from nesting.domain.plan import GroupPlan, Plan, PlannedBar
from nesting.reports.lengths import BothUnits
from nesting.reports.whereabouts import numbers_words
from nesting.units import Length


def offset_words(
    plan: Plan, group: GroupPlan, bar: PlannedBar, pieces: Mapping[str, Piece], lengths: BothUnits
) -> str:
    """
    Say how the covers of a bar are set back, and what to measure; empty where they end with the channel.

    One stroke goes through both at the channel's length A. With a cap seated on the clean end and a
    spacer against its nose, the cover starts n_L + n_R behind the channel, so it comes out at
    V = A - n_L - n_R, and is slid back by the spacer (common practice, no source).
    """
    family = plan.request.family(group.material.family)
    if not group.cover_follows or family is None or family.cover_mode is not CoverMode.OFFSET:
        return ""
    cuts: defaultdict[int, list[int]] = defaultdict(list)
    for order, cut in enumerate(bar.cuts, start=1):
        cover = pieces[cut.piece].cover_length
        if cover is not None:
            cuts[cut.stop - cover].append(order)
    cuts.pop(0, None)
    alone = len(cuts) == 1 and sum(map(len, cuts.values())) == len(bar.cuts)
    said = []
    for shorter, orders in sorted(cuts.items(), reverse=True):
        spacer = max(shorter - family.nose, 0)
        which = "" if alone else f"cut{'s' if len(orders) > 1 else ''} {numbers_words(tuple(orders))}: "
        how = (
            f"spacer {lengths.said(Length(spacer))} between cap nose and cover, slide the cover back as much"
            if spacer
            else "cover against the cap's nose, no spacer"
        )
        said.append(f"{which}{how}; check: cover {lengths.said(Length(shorter))} shorter than the channel")
    return f"Covers, cap seated on the clean end, one stroke for both: {'. '.join(said)}." if said else ""
