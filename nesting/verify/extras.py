"""What a plan says beside its bars: margins, the next-best purchase, spares from tails."""

from __future__ import annotations

from collections.abc import Iterator

from nesting.domain.mitre import MitreSection
from nesting.domain.plan import GroupPlan, Plan, PlannedBar
from nesting.domain.rules import SawRules
from nesting.units import Length
from nesting.verify.mitred import walk_mitred
from nesting.verify.violation import Violation, in_mm


def extra_violations(plan: Plan) -> Iterator[Violation]:
    """Give the margins that the bars do not have, and the promises that cannot be kept."""
    for group in plan.groups:
        yield from _margins(group)
        yield from _spares(group)
        where = f"material {group.material}"
        if group.alternative is not None and group.alternative.cost < group.bound:
            yield Violation(
                "alternative",
                where,
                f"{group.material}: the next-best purchase is said to cost less than any plan can.",
            )


def room_of(bar: PlannedBar, kerf: int, section: MitreSection | None = None) -> int:
    """Give what a bar has left behind its last cut and tail loss, cut with some kerf; negative: too short."""
    if section is not None and bar.cuts:
        true = walk_mitred(bar, SawRules(kerf=Length(kerf)), section)
        return true.rest - true.tail_due
    need = bar.head + bar.tail_loss
    for position, cut in enumerate(bar.cuts):
        need += cut.length + (kerf if position else 0)
    return bar.length - need


def _margins(group: GroupPlan) -> Iterator[Violation]:
    margins = group.margins
    if margins is None:
        return
    where = f"material {group.material}"
    open_bars = [bar for bar in group.bars if not bar.state.cut]
    if margins.kerf is not None:
        tightest = min((room_of(bar, margins.kerf, group.mitre) for bar in open_bars), default=0)
        wider = [room_of(bar, margins.kerf + 1, group.mitre) for bar in open_bars if len(bar.cuts) > 1]
        if tightest < 0 or not wider or min(wider) >= 0:
            yield Violation(
                "kerf-margin",
                where,
                f"{group.material}: {in_mm(margins.kerf)} is not the largest kerf its bars hold.",
            )
    elif group.mitre is None and any(len(bar.cuts) > 1 for bar in open_bars):
        yield Violation("kerf-margin", where, f"{group.material}: its bars have a largest kerf.")
    new = [room_of(bar, group.saw.kerf, group.mitre) for bar in open_bars if not bar.offcut]
    due = min(new, default=None)
    if margins.bar != due:
        said = "none" if margins.bar is None else in_mm(margins.bar)
        yield Violation(
            "bar-margin",
            where,
            f"{group.material}: its new bars may be shorter by {in_mm(due or 0)}, not {said}.",
        )


def _spares(group: GroupPlan) -> Iterator[Violation]:
    taken: dict[int, int] = {}
    bars = {bar.number: bar for bar in group.bars}
    for spare in group.spares:
        taken[spare.bar] = taken.get(spare.bar, 0) + spare.length + group.saw.kerf
        where = f"bar {spare.bar}"
        bar = bars.get(spare.bar)
        if bar is None or bar.state.cut or room_of(bar, group.saw.kerf, group.mitre) < taken[spare.bar]:
            yield Violation(
                "spare", where, f"Bar {spare.bar}: its tail does not give a spare of {in_mm(spare.length)}."
            )
