"""All small parts of a request in one count: what the bags, the reels and the drivers come to."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction

from nesting.domain.material import Family, Part
from nesting.domain.pieces import Piece, StripCut
from nesting.domain.request import Request
from nesting.domain.runs import Run
from nesting.domain.small_parts import AdhesiveLine, ClipRule, ConnectorLine, SmallParts, StripLine
from nesting.errors import ProblemError
from nesting.takeoff.caps import caps_of
from nesting.takeoff.clips import clips_of
from nesting.takeoff.joint_sets import adhesive_length, connectors_for, joint_sets_of
from nesting.takeoff.run_strip import feed_of
from nesting.takeoff.watts import CLASS_2_WATTS, driver_watts, driver_zones, strip_watts
from nesting.units import Length


def small_parts_of(request: Request, pieces: Sequence[Piece], strips: Sequence[StripCut]) -> SmallParts:
    """
    Count the small parts of every run that gave pieces.

    Parameters
    ----------
    pieces, strips
        The request's take-off.
    """
    made = {(piece.job, piece.run) for piece in pieces}
    runs = tuple(run for run in request.runs if (run.job, run.id) in made)
    families = {family.name: family for family in request.families}
    rules = {name: rule for name, family in families.items() if (rule := clip_rule(family)) is not None}
    return SmallParts(
        caps=caps_of(runs, handed={name for name, family in families.items() if family.handed_caps}),
        clips=clips_of(_of_runs(pieces, runs), rules),
        joint_sets=joint_sets_of(pieces),
        connectors=_connectors(runs, strips),
        adhesive=_adhesive(_of_runs(pieces, runs), families),
        strips=_strips(runs, strips, families),
    )


def clip_rule(family: Family) -> ClipRule | None:
    """Give the family's clip rule; None where it says no spacing, such as for a recessed channel."""
    if not family.clip_spacing:
        return None
    return ClipRule(edge=family.clip_edge, pitch=family.clip_spacing, single_below=family.clip_single_below)


def strip_article(family: Family) -> str:
    """Give the name of a family's strip: its article, else the family's own name."""
    return family.strip_name or family.name


def _of_runs(pieces: Iterable[Piece], runs: Iterable[Run]) -> list[Piece]:
    """Keep the pieces taken off from runs; whoever lists pieces mounts them by his own rule."""
    known = {(run.job, run.id) for run in runs}
    return [piece for piece in pieces if (piece.job, piece.run) in known]


def _connectors(runs: Sequence[Run], strips: Sequence[StripCut]) -> tuple[ConnectorLine, ...]:
    lit = {(strip.job, strip.run): strip for strip in strips}
    feeds: Counter[str] = Counter()
    corner_ends: Counter[str] = Counter()
    for run in runs:
        strip = lit.get((run.job, run.id))
        if strip is None:
            continue
        feed = feed_of(run)
        if feed is not None:
            feeds[run.family] += connectors_for(feed, circuits=strip.circuits).feeds * run.quantity
        corner_ends[run.family] += len(run.mitres) * run.quantity
    # A corner has two mitred ends and one bridge.
    return tuple(
        ConnectorLine(family=family, feeds=feeds[family], jumpers=-(-corner_ends[family] // 2))
        for family in sorted(feeds | corner_ends)
    )


def _adhesive(pieces: Sequence[Piece], families: Mapping[str, Family]) -> tuple[AdhesiveLine, ...]:
    lengths: defaultdict[tuple[str, str], list[Length]] = defaultdict(list)
    for piece in pieces:
        if piece.part is Part.CHANNEL:
            lengths[piece.material.family, piece.material.finish].append(piece.stop)
    return tuple(
        AdhesiveLine(family, finish, adhesive_length(lengths[family, finish], families[family].adhesive_rows))
        for family, finish in sorted(lengths)
        if families[family].adhesive_rows
    )


def _strips(
    runs: Sequence[Run], strips: Sequence[StripCut], families: Mapping[str, Family]
) -> tuple[StripLine, ...]:
    by_key = {(run.job, run.id): run for run in runs}
    articles: defaultdict[tuple[str, Fraction | None, Fraction | None], list[StripCut]] = defaultdict(list)
    for strip in strips:
        run = by_key.get((strip.job, strip.run))
        if run is not None:
            family = families[run.family]
            articles[strip_article(family), family.strip_watts, family.strip_volts].append(strip)
    return tuple(
        _strip_line(name, watts, volts, cuts, by_key, families)
        for (name, watts, volts), cuts in sorted(articles.items(), key=lambda item: _order(item[0]))
    )


def _order(article: tuple[str, Fraction | None, Fraction | None]) -> tuple[str, Fraction, Fraction]:
    name, watts, volts = article
    return name, watts or Fraction(0), volts or Fraction(0)


def _strip_line(
    name: str,
    watts: Fraction | None,
    volts: Fraction | None,
    cuts: Sequence[StripCut],
    runs: Mapping[tuple[str, str], Run],
    families: Mapping[str, Family],
) -> StripLine:
    length = sum(cut.length * cut.quantity for cut in cuts)
    line = StripLine(
        strip=name, pieces=sum(len(cut.parts or (cut.marks,)) * cut.quantity for cut in cuts), length=length
    )
    if watts is None:
        return line
    load = strip_watts(Length(length), watts)
    source = CLASS_2_WATTS.get(volts) if volts is not None else None
    outputs = _outputs(cuts, watts, source, runs, families) if source is not None else None
    return StripLine(
        strip=name,
        pieces=line.pieces,
        length=length,
        watts=load,
        driver_watts=driver_watts(load),
        outputs=outputs,
        output_watts=source if outputs is not None else None,
    )


def _outputs(
    cuts: Sequence[StripCut],
    watts: Fraction,
    source: Fraction,
    runs: Mapping[tuple[str, str], Run],
    families: Mapping[str, Family],
) -> int | None:
    """Share the circuits of each unit out on outputs; None when a circuit alone is too much for one."""
    loads: defaultdict[tuple[str, str, str, str], list[Fraction]] = defaultdict(list)
    for cut in cuts:
        run = runs[cut.job, cut.run]
        pitch = families[run.family].strip_pitch or Fraction(0)
        share, rest = divmod(cut.marks, cut.circuits)
        marks = [share + 1] * rest + [share] * (cut.circuits - rest)
        place = run.place
        loads[run.job, place.building, place.floor, place.unit].extend(
            [strip_watts(Length(int(count * pitch)), watts) for count in marks] * cut.quantity
        )
    try:
        return sum(len(driver_zones(unit, source)) for unit in loads.values())
    except ProblemError:
        return None
