"""What a plan says beside its bars: heat, watts, wire and solder joints. Nothing here changes a length."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from fractions import Fraction

from nesting.domain.electrics import StripKind
from nesting.domain.material import CoverMode, Family, Part
from nesting.domain.pieces import Piece, StripCut
from nesting.domain.reels import ReelPlan
from nesting.domain.request import Request
from nesting.domain.runs import Run
from nesting.errors import Finding, Severity, Where
from nesting.takeoff.figures import figure
from nesting.takeoff.heat import ALUMINIUM, POLYCARBONATE, WORTH_A_WARNING, cover_play
from nesting.takeoff.reels import cuts_at_solder_joints
from nesting.takeoff.watts import driver_advice, strip_watts
from nesting.takeoff.wire import CONDUCTORS, drop_advice
from nesting.units import NM_PER_MM, Length

_NAMED = 6


def heat_findings(request: Request, pieces: Sequence[Piece]) -> Iterator[Finding]:
    """
    Show for each family how its longest cover moves with heat; a warning where 2 mm are missing.

    The play that the family's covers already have counts. Families without ``heat_above`` say
    nothing.
    """
    runs = {(run.job, run.id): run for run in request.runs}
    covered: defaultdict[str, list[Piece]] = defaultdict(list)
    for piece in pieces:
        family = request.family(piece.material.family)
        if (
            family is not None
            and family.heat_above is not None
            and family.cover_mode is not CoverMode.NONE
            and piece.part is Part.CHANNEL
            and (piece.job, piece.run) in runs
        ):
            covered[family.name].append(piece)
    for name in sorted(covered):
        family = request.family(name)
        if family is not None:
            yield _heat(family, covered[name])


def _heat(family: Family, channels: Sequence[Piece]) -> Finding:
    longest = max(channels, key=lambda piece: piece.stop)

    def wanted(length: Length) -> tuple[Length, Length]:
        play = cover_play(
            length,
            hotter=family.heat_above or Fraction(0),
            colder=family.heat_below or Fraction(0),
            cover=family.cover_expansion if family.cover_expansion is not None else POLYCARBONATE,
            channel=family.channel_expansion if family.channel_expansion is not None else ALUMINIUM,
        )
        return play.wanted, play.cold_gap

    hot, cold = wanted(longest.stop)
    short_of = [piece for piece in channels if wanted(piece.stop)[0] - family.cover_play > WORTH_A_WARNING]
    count = f"{len(short_of)} covers want" if len(short_of) != 1 else "1 cover wants"
    beyond = f"more than {_mm(WORTH_A_WARNING)} {'beyond that' if family.cover_play else 'of it'}"
    far = f" {count} {beyond}." if short_of else ""
    together = " Play needs the cover cut separately." if short_of and family.cover_mode.together else ""
    leak = (
        f" When cold it stands {_mm(cold)} open, more than the cap's nose covers ({_mm(family.nose)})."
        if family.nose and cold > family.nose
        else ""
    )
    return Finding(
        severity=Severity.WARNING if short_of else Severity.NOTE,
        code="cover-grows-with-heat",
        where=longest.where,
        found=family.name,
        message=(
            f"The longest cover ({longest.id}, channel {_mm(longest.stop)}) wants "
            f"{_mm(hot)} of play when hot; the family gives {_mm(family.cover_play)}.{far}{leak} "
            f"No length is changed: set the family's cover play if it shall be.{together}"
        ),
    )


def strip_kind(family: Family) -> StripKind | None:
    """Give the family's strip for electrical advice; None where pitch, watts or volts are unknown."""
    if family.strip_pitch is None or family.strip_watts is None or family.strip_volts is None:
        return None
    return StripKind(
        name=family.strip_name or family.name,
        pitch=family.strip_pitch,
        watts_per_metre=family.strip_watts,
        volts=family.strip_volts,
        longest_one_end=family.strip_longest,
        longest_both_ends=family.strip_longest_both,
        reel=family.strip_reel,
        solder_every=family.strip_solder,
        solderless_reach=family.strip_reach,
    )


def electric_findings(request: Request, strips: Sequence[StripCut]) -> Iterator[Finding]:
    """
    Warn of circuits past a limited-power source, and give the feed wire's drop for each family.

    The drop is that of the family's heaviest circuit, over the wire the family names.
    """
    runs = {(run.job, run.id): run for run in request.runs}
    heaviest: dict[str, tuple[Fraction, Run]] = {}
    for strip in strips:
        run = runs.get((strip.job, strip.run))
        family = request.family(run.family) if run else None
        kind = strip_kind(family) if family else None
        if run is None or family is None or kind is None:
            continue
        longest = -(-strip.marks // strip.circuits)
        circuit = Length(int(longest * kind.pitch))
        advice = driver_advice(run.id, circuit, kind, run.where)
        if advice.severity is Severity.WARNING:
            yield advice
        load = strip_watts(circuit, kind.watts_per_metre)
        if family.name not in heaviest or load > heaviest[family.name][0]:
            heaviest[family.name] = (load, run)
    for name, (load, run) in sorted(heaviest.items()):
        family = request.family(name)
        if family is not None:
            yield from _drop(family, load, run)


def _drop(family: Family, load: Fraction, run: Run) -> Iterator[Finding]:
    if not family.wire or not family.wire_length or family.strip_volts is None:
        return
    if family.wire not in CONDUCTORS:
        yield Finding(
            severity=Severity.WARNING,
            code="wire-unknown",
            where=run.where,
            found=family.wire,
            message=f"The feed wire of {family.name} is not known, so its drop is not worked out; known are "
            f"{', '.join(CONDUCTORS)}.",
        )
        return
    yield drop_advice(
        run.id,
        wire=family.wire_length,
        conductor=family.wire,
        watts=load,
        volts=family.strip_volts,
        where=run.where,
    )


def solder_findings(reels: Sequence[ReelPlan]) -> Iterator[Finding]:
    """Warn, once an article, of the cuts where a solderless connector would sit on a solder joint."""
    for plan in reels:
        if plan.solder_every is None or not plan.reach:
            continue
        met = [
            (reel.number, cut)
            for reel in plan.reels
            for cut in cuts_at_solder_joints(
                tuple(cut.marks for cut in reel.cuts), plan.pitch, plan.solder_every, plan.reach
            )
            if cut < plan.marks  # the reel's own end is no cut
        ]
        if met:
            named = ", ".join(
                f"reel {number} at {figure(cut * plan.pitch / NM_PER_MM, 'mm')}"
                for number, cut in met[:_NAMED]
            )
            falls = f"{len(met)} cuts fall" if len(met) > 1 else "1 cut falls"
            more = f" and {len(met) - _NAMED} more" if len(met) > _NAMED else ""
            yield Finding(
                severity=Severity.WARNING,
                code="cut-at-solder-joint",
                where=Where("plan"),
                found=plan.strip,
                message=f"{falls} on a factory solder joint ({named}{more}): solder the leads "
                "there, no solderless connector. Check where the first joint of the reel really is.",
            )


def _mm(length: Length) -> str:
    return figure(Fraction(length, NM_PER_MM), "mm")
