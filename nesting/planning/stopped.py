"""A bar that was given up: the cuts that were made, and the clear stretches that are left of it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from nesting.domain.made import BarState, Span, Zone
from nesting.domain.material import Material
from nesting.domain.plan import PlannedBar, TailFate
from nesting.domain.rules import SawRules
from nesting.domain.stock import EndState, Offcut
from nesting.units import NO_LENGTH, Length


def stopped_bar(
    bar: PlannedBar, saw: SawRules, made: int, defects: Sequence[Span], measured: Length | None
) -> PlannedBar:
    """
    Give a bar after its first cuts, divided into what is clear of damage.

    A forbidden span [x1, x2] splits the rest; each edge costs a stroke of the clear metal, so the
    clear stretches end at x1 - k and begin at x2 + k.

    Parameters
    ----------
    made
        Cuts made before it was given up.
    defects
        From the end that leads at the saw; what lies in metal cut already changes nothing.
    measured
        What was left of it, where nothing is damaged; None when it was not measured.
    """
    cuts = bar.cuts[:made]
    head = bar.head if cuts else NO_LENGTH
    begin = Length(head + sum(cut.length + saw.kerf for cut in cuts))
    zones = clear_zones(begin, bar.length, defects, saw.kerf)
    edges = sum((zone.start != begin) + (zone.start + zone.length != bar.length) for zone in zones)
    return replace(
        bar,
        state=BarState.STOPPED,
        cuts=cuts,
        head=head,
        strokes=int(head > NO_LENGTH) + len(cuts) + edges,
        kerf_loss=Length((len(cuts) + edges) * saw.kerf),
        tail=NO_LENGTH,
        fate=TailFate.NONE,
        tail_tag="",
        sliver=False,
        true_tail=measured if zones else None,
        defects=tuple(sorted(defects)),
        zones=zones,
    )


def clear_zones(begin: Length, end: Length, defects: Sequence[Span], kerf: Length) -> tuple[Zone, ...]:
    """Give the stretches between ``begin`` and ``end`` that are clear of damage and of the edges' strokes."""
    zones = []
    at = int(begin)
    for span in sorted(defects):
        if span.end <= at:
            continue
        if span.start - kerf > at:
            zones.append(Zone(Length(at), Length(span.start - kerf - at)))
        at = span.end + kerf
    if end > at:
        zones.append(Zone(Length(at), Length(end - at)))
    return tuple(zones)


def clear_offcuts(bar: PlannedBar, material: Material, lot: str) -> Iterator[Offcut]:
    """Give the clear stretches of a stopped bar as offcuts; only the bar's own ends are raw."""
    raw = EndState.RAW if bar.tail_loss > NO_LENGTH else EndState.CLEAN
    for zone in bar.zones:
        last = zone.start + zone.length == bar.length
        yield Offcut(
            tag=zone.tag,
            family=material.family,
            finish=material.finish,
            part=material.part,
            length=zone.length if bar.true_tail is None else bar.true_tail,
            left=raw if not zone.start else EndState.CLEAN,
            right=raw if last else EndState.CLEAN,
            lot=lot,
            place="at the saw",
        )
