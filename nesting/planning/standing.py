"""A plan after a report from the shop: what is done, what stays open, what comes back to be planned again."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import chain, count

from nesting.domain.made import BarState, Spoiled
from nesting.domain.material import Material
from nesting.domain.pieces import Piece
from nesting.domain.plan import Plan, PlannedBar, TailFate
from nesting.domain.report import BarReport, Outcome, ShopReport
from nesting.domain.request import Request
from nesting.domain.rules import SawRules
from nesting.domain.runs import EndCondition
from nesting.domain.stock import EndState, Offcut
from nesting.errors import InputRefused
from nesting.planning.report_faults import report_faults
from nesting.planning.stopped import clear_offcuts, stopped_bar
from nesting.units import NO_LENGTH, Length


@dataclass(frozen=True, slots=True)
class KeptBar:
    """A bar that stays in the plan, with its material."""

    material: Material
    bar: PlannedBar


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """
    Where things stand.

    Parameters
    ----------
    request
        The plan's request with the rack as it is now: offcuts born at the saw are on it, lost ones gone.
    kept
        Bars that are cut or frozen, in the order of their numbers; nothing of them moves any more.
    open
        Bars still to be cut as planned, in the order of their numbers.
    back
        Pieces to be planned again: spoiled, not cut, from offcuts that are lost, left out before.
    spoiled
        Tags of the spoiled pieces that can become other ones.
    passing
        Tags of offcuts too short to keep; what is not used of them at once is scrap.
    """

    request: Request
    kept: tuple[KeptBar, ...]
    open: tuple[KeptBar, ...]
    back: tuple[Piece, ...]
    spoiled: tuple[str, ...]
    passing: frozenset[str]


def standing_after(plan: Plan, report: ShopReport) -> Standing:
    """
    Give where things stand after a report.

    Raises
    ------
    InputRefused
        When the report does not fit the plan: another plan's, a bar it has not or that is cut already, a
        piece not on the bar, a tail longer or shorter than the bar can have left. It carries every finding.
    """
    faults = tuple(report_faults(plan, report))
    if faults:
        raise InputRefused(faults)
    reports = {one.bar: one for one in report.bars}
    lost = set(report.lost)
    kept: list[KeptBar] = []
    still_open: list[KeptBar] = []
    back: set[str] = {one.piece for one in plan.unplaced if one.piece}
    born: list[Offcut] = []
    spoiled: list[str] = []
    ends = {piece.id: (piece.left, piece.right) for piece in plan.pieces}
    tags = _Tags(plan)
    rack = {offcut.tag: offcut for offcut in plan.request.offcuts}
    for group in plan.groups:
        for bar in group.bars:
            one = reports.get(bar.number)
            if bar.offcut and not bar.state.cut and (bar.source in lost or _is(one, Outcome.NOT_FOUND)):
                lost.add(bar.source)
                back.update(cut.piece for cut in bar.cuts)
                continue
            if one is None:
                now = bar
            elif one.outcome is Outcome.FROZEN:
                now = replace(bar, state=BarState.FROZEN)
            else:
                stopped = one.outcome is Outcome.STOPPED
                lot = group.material.lot or (rack[bar.source].lot if bar.source in rack else "")
                made = stopped_bar(bar, group.saw, one.made, one.defects, one.tail) if stopped else bar
                now = _spoil(made, one, tags)
                now = (
                    _tagged_zones(now, tags)
                    if stopped
                    else _with_tail(now, group.saw, one.tail, tags, short=one.short)
                )
                back.update(cut.piece for cut in bar.cuts[len(now.cuts) :])
                back.update(miscut.piece for miscut in one.miscuts)
                born += [_tail(now, group.material, lot)] if now.tail_tag else []
                born += clear_offcuts(now, group.material, lot)
                from_pieces = list(_pieces_left(now, group.material, lot, ends))
                spoiled += [offcut.tag for offcut in from_pieces]
                born += from_pieces
            (still_open if now.state is BarState.OPEN else kept).append(KeptBar(group.material, now))
    offcuts = tuple(offcut for offcut in plan.request.offcuts if offcut.tag not in lost)
    keep = {group.material: group.saw.keep_length for group in plan.groups}
    by_kind = {(m.family, m.finish, m.part): length for m, length in keep.items()}
    return Standing(
        request=replace(plan.request, offcuts=(*offcuts, *(one for one in born if one.tag not in lost))),
        kept=tuple(sorted(kept, key=lambda one: one.bar.number)),
        open=tuple(sorted(still_open, key=lambda one: one.bar.number)),
        back=tuple(piece for piece in plan.pieces if piece.id in back),
        spoiled=tuple(spoiled),
        passing=frozenset(o.tag for o in born if o.length < by_kind[o.family, o.finish, o.part]),
    )


class _Tags:
    """Gives new offcuts tags that nobody has."""

    def __init__(self, plan: Plan) -> None:
        self._prefix = plan.id[:6].upper()
        self._taken = {offcut.tag for offcut in plan.request.offcuts}
        for group in plan.groups:
            for bar in group.bars:
                self._taken.update((bar.tail_tag, *(s.tag for s in bar.spoiled), *(z.tag for z in bar.zones)))

    def new(self, bar: int, kind: str = "") -> str:
        """Give a tag for something that came from a bar; kind is S for a spoiled piece, Z for a zone."""
        first = f"{self._prefix}-{bar}{kind}"
        tags = chain((first,) if not kind else (), (f"{first}{'' if kind else 'x'}{n}" for n in count(1)))
        tag = next(tag for tag in tags if tag not in self._taken)
        self._taken.add(tag)
        return tag


def _is(report: BarReport | None, outcome: Outcome) -> bool:
    return report is not None and report.outcome is outcome


def _spoil(bar: PlannedBar, report: BarReport, tags: _Tags) -> PlannedBar:
    spoiled = tuple(
        Spoiled(m.piece, m.length, tags.new(bar.number, "S") if m.length is not None else "")
        for m in report.miscuts
    )
    return replace(bar, spoiled=spoiled)


def _with_tail(
    bar: PlannedBar, saw: SawRules, measured: Length | None, tags: _Tags, *, short: bool
) -> PlannedBar:
    """Give the done bar with the tail it has: measured, or as it follows from what came out wrong."""
    true = measured if measured is not None else _shifted(bar, bar.tail)
    left = bar.tail if true is None else true
    kept = left > 0 and left >= saw.keep_length
    fate = TailFate.OFFCUT if kept else TailFate.SCRAP if left else TailFate.NONE
    tag = (bar.tail_tag or tags.new(bar.number)) if kept else ""
    return replace(bar, state=BarState.DONE, true_tail=true, fate=fate, tail_tag=tag, short=short)


def _shifted(bar: PlannedBar, rest: Length) -> Length | None:
    """Give what is left when pieces came out shorter or longer; None when none did."""
    lengths = {cut.piece: cut.length for cut in bar.cuts}
    shifts = [lengths[one.piece] - one.length for one in bar.spoiled if one.length is not None]
    return Length(max(rest + sum(shifts), 0)) if shifts else None


def _tagged_zones(bar: PlannedBar, tags: _Tags) -> PlannedBar:
    if bar.true_tail is None and not bar.defects and bar.zones:
        bar = replace(bar, true_tail=_shifted(bar, bar.zones[0].length))
    if bar.true_tail == 0:
        bar = replace(bar, true_tail=None, zones=())
    zones = tuple(replace(zone, tag=tags.new(bar.number, "Z")) for zone in bar.zones)
    return replace(bar, zones=zones)


def _tail(bar: PlannedBar, material: Material, lot: str) -> Offcut:
    return Offcut(
        tag=bar.tail_tag,
        family=material.family,
        finish=material.finish,
        part=material.part,
        length=bar.tail_left,
        left=EndState.CLEAN,
        right=EndState.RAW if bar.tail_loss > NO_LENGTH else EndState.CLEAN,
        lot=lot,
    )


def _pieces_left(
    bar: PlannedBar, material: Material, lot: str, ends: dict[str, tuple[EndCondition, EndCondition]]
) -> Iterator[Offcut]:
    """Give the spoiled pieces as offcuts: both ends are clean faces, a mitred one has to be cut square."""
    for one in bar.spoiled:
        if one.length is not None:
            left, right = (_face(end) for end in ends[one.piece])
            yield Offcut(
                tag=one.tag,
                family=material.family,
                finish=material.finish,
                part=material.part,
                length=one.length,
                left=left,
                right=right,
                lot=lot,
                place="at the saw",
            )


def _face(end: EndCondition) -> EndState:
    return EndState.RAW if end is EndCondition.MITRE else EndState.CLEAN


def without(standing: Standing, plan_bars: Sequence[PlannedBar]) -> Standing:
    """
    Give the standing without the tags of what is too short to keep and was not used: that is scrap.

    Parameters
    ----------
    plan_bars
        Every bar of the new plan.
    """
    used = {bar.source for bar in plan_bars}
    gone = standing.passing - used
    kept = tuple(replace(one, bar=_untagged(one.bar, gone)) for one in standing.kept)
    offcuts = tuple(offcut for offcut in standing.request.offcuts if offcut.tag not in gone)
    return replace(standing, request=replace(standing.request, offcuts=offcuts), kept=kept)


def _untagged(bar: PlannedBar, gone: frozenset[str]) -> PlannedBar:
    spoiled = tuple(replace(one, tag="") if one.tag in gone else one for one in bar.spoiled)
    zones = tuple(replace(one, tag="") if one.tag in gone else one for one in bar.zones)
    return replace(bar, spoiled=spoiled, zones=zones)
