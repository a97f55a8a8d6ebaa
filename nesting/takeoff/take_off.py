"""The take-off: every run of a request as channel pieces, cover pieces and strip."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from nesting.domain.material import CoverMode, Family, LotRule, Material, Part
from nesting.domain.pieces import Piece, StripCut
from nesting.domain.plan import Unplaced
from nesting.domain.request import Request
from nesting.domain.runs import EndCondition, PieceLine, Run
from nesting.errors import Finding
from nesting.takeoff.in_sections import IN_SECTIONS, told
from nesting.takeoff.mitred_run import MitredRun, mitred_run
from nesting.takeoff.names import cover_name, names_of_runs, piece_name, with_unique_names
from nesting.takeoff.rounding import round_nearest, sawn_channel
from nesting.takeoff.run_covers import CoverPart, covers_over_joints, joints_together, staggers
from nesting.takeoff.run_strip import strip_of_run
from nesting.takeoff.sections import NotMade, Section, longest_sections, sections_of, whole_channel
from nesting.units import NO_LENGTH, Length


@dataclass(frozen=True, slots=True)
class Takeoff:
    """
    What has to be sawn, and what cannot be.

    Parameters
    ----------
    pieces
        Every piece, copies one by one, in the order of the list; ids are unique.
    strips
        Strip of each run, for one fixture.
    unplaced
        Runs that give no pieces, with the reason.
    findings
        What deserves a look, such as a run too short for any strip.
    """

    pieces: tuple[Piece, ...]
    strips: tuple[StripCut, ...]
    unplaced: tuple[Unplaced, ...]
    findings: tuple[Finding, ...]


def take_off(request: Request) -> Takeoff:
    """
    Take off all runs and piece lines of a request; what cannot be made is listed, never raised.

    Cap thickness and nose count at capped ends only, clearances for openings only. A channel longer
    than the longest bar yields is split by the run's rule, else its family's; offcuts do not make a
    longer run possible. Where nothing of the material is stocked the channel stays whole.
    """
    names = names_of_runs((*request.runs, *request.piece_lines))
    longest = longest_sections(request, Part.CHANNEL)
    longest_cover = longest_sections(request, Part.COVER)
    pieces: list[Piece] = []
    strips: list[StripCut] = []
    unplaced: list[Unplaced] = []
    findings: list[Finding] = []
    divided: list[tuple[Run, tuple[Length, ...]]] = []
    for run in request.runs:
        try:
            family = _family_of(run, request)
            most = longest.get((run.family, run.finish))
            sections: tuple[Section, ...] = ()
            if run.mitres:
                made = mitred_run(run, family, request, most)
                sawn = made.long_point
                taken = _pieces_of_mitred(run, family, names[run.job, run.id], made)
            else:
                whole = whole_channel(run, family)
                sawn = sawn_channel(whole, run.kind, request.saw.step)
                sections = tuple(sections_of(run, family, request, whole, sawn, most))
                covers = None
                if len(sections) > 1 and staggers(family):
                    cover_bar = longest_cover.get((run.family, run.finish))
                    covers = covers_over_joints(run, family, request, sections, cover_bar)
                    if covers is None:
                        findings.append(joints_together(run, family))
                taken = _pieces_of_run(run, family, names[run.job, run.id], sections, covers)
        except NotMade as why:
            unplaced.append(_unplaced(run, why))
            continue
        pieces.extend(taken)
        if len(sections) > 1:
            divided.append((run, tuple(section.length for section in sections)))
        for found in strip_of_run(run, family, sawn):
            if isinstance(found, StripCut):
                strips.append(found)
            else:
                findings.append(found)
    for line in request.piece_lines:
        length = round_nearest(line.length, request.saw_for(line.part).step)
        if length > 0:
            pieces.extend(_pieces_of_line(line, request, names[line.job, line.id], length))
        else:
            unplaced.append(
                _unplaced(line, NotMade("no-length", line.length, "shorter than the saw can be set to"))
            )
    # A reader that knew the bars has said so at the cell; one that did not could not.
    known = {finding.found for finding in request.findings if finding.code == IN_SECTIONS}
    findings.extend(one for one in told(request, divided) if one.found not in known)
    return Takeoff(tuple(with_unique_names(pieces)), tuple(strips), tuple(unplaced), tuple(findings))


def _unplaced(line: Run | PieceLine, why: NotMade) -> Unplaced:
    return Unplaced(
        job=line.job,
        run=line.id,
        piece="",
        length=max(why.length, NO_LENGTH) or line.length,
        reason=why.reason,
        code=why.code,
        where=line.where,
    )


def _family_of(run: Run, request: Request) -> Family:
    family = request.family(run.family)
    if family is None:
        raise NotMade(
            "family-unknown", run.length, f"the catalogue has no family {run.family!r} to take the run off by"
        )
    return family


def _lot(line: Run | PieceLine, family: Family | None) -> str:
    bound_to_job = family is not None and family.lot_rule is LotRule.JOB
    return line.lot or (line.job if bound_to_job else "")


def _pieces_of_run(
    run: Run,
    family: Family,
    name: str,
    sections: tuple[Section, ...],
    covers: tuple[CoverPart, ...] | None,
) -> Iterator[Piece]:
    """Give a run's pieces; ``covers`` are those over its joints, None gives every section its own."""
    lot = _lot(run, family)
    channel = Material(run.family, run.finish, Part.CHANNEL, lot)
    cover = Material(run.family, run.finish, Part.COVER, lot)
    for copy in range(1, run.quantity + 1):
        for number, section in enumerate(sections, 1):
            piece = Piece(
                id=piece_name(name, copy=copy, copies=run.quantity, section=number, sections=len(sections)),
                job=run.job,
                run=run.id,
                copy=copy,
                section=number,
                sections=len(sections),
                material=channel,
                length=section.length,
                exact=section.exact,
                cover_length=section.cover if family.cover_mode.together else None,
                left=section.left,
                right=section.right,
                place=run.place,
                where=run.where,
            )
            yield piece
            if family.cover_mode is CoverMode.SEPARATE and covers is None:
                yield replace(
                    piece,
                    id=cover_name(piece.id),
                    material=cover,
                    length=section.cover,
                    exact=section.cover_exact,
                )
        count = len(covers or ())
        ends = (run.left, *[EndCondition.JOINT] * (count - 1), run.right)
        for number, part in enumerate(covers or (), 1):
            channel_name = piece_name(name, copy=copy, copies=run.quantity, section=number, sections=count)
            yield Piece(
                id=cover_name(channel_name),
                job=run.job,
                run=run.id,
                copy=copy,
                section=number,
                sections=count,
                material=cover,
                length=part.length,
                exact=part.exact,
                left=ends[number - 1],
                right=ends[number],
                place=run.place,
                where=run.where,
            )


def _pieces_of_mitred(run: Run, family: Family, name: str, made: MitredRun) -> Iterator[Piece]:
    lot = _lot(run, family)
    for copy in range(1, run.quantity + 1):
        piece = Piece(
            id=piece_name(name, copy=copy, copies=run.quantity),
            job=run.job,
            run=run.id,
            copy=copy,
            material=Material(run.family, run.finish, Part.CHANNEL, lot),
            length=made.length,
            exact=made.exact,
            cover_length=made.cover if family.cover_mode.together else None,
            long_point=made.long_point,
            slope_left=made.left,
            slope_right=made.right,
            left=run.left,
            right=run.right,
            place=run.place,
            where=run.where,
        )
        yield piece
        if family.cover_mode is CoverMode.SEPARATE:
            yield replace(
                piece,
                id=cover_name(piece.id),
                material=Material(run.family, run.finish, Part.COVER, lot),
                length=made.cover_length,
                exact=made.cover_exact,
                cover_length=None,
                long_point=made.cover,
            )


def _pieces_of_line(line: PieceLine, request: Request, name: str, length: Length) -> Iterator[Piece]:
    material = Material(line.family, line.finish, line.part, _lot(line, request.family(line.family)))
    for copy in range(1, line.quantity + 1):
        yield Piece(
            id=piece_name(name, copy=copy, copies=line.quantity),
            job=line.job,
            run=line.id,
            copy=copy,
            material=material,
            length=length,
            exact=line.length,
            place=line.place,
            where=line.where,
        )
