"""What a report from the saw does: metal out of the store, tail back into it, in one stroke."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace

from nesting.domain.made import TAPE, over_measure
from nesting.domain.material import Material
from nesting.domain.plan import PlannedBar
from nesting.domain.rules import SawRules
from nesting.domain.stock import EndState, Offcut
from nesting.errors import NestingError
from nesting.stockroom.ledger import Account, Entry, Kind, moved
from nesting.stockroom.rack import Move, Tagged, require_reserved
from nesting.stockroom.states import State
from nesting.units import NO_LENGTH, Length, mm_text


class ReportNotPossible(NestingError):
    """A report that the bar's own length contradicts, e.g. a tail longer than what is left of it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CutReport:
    """
    What the saw says of one bar.

    Parameters
    ----------
    tail
        Measured tail; None when it is as planned.
    spoiled
        Pieces that were cut wrong.
    place
        Where on the rack the tail was put.
    came_out
        Of the spoiled pieces that are kept, what came out of them: pairs (piece, length). The others
        are scrap.
    made
        Cuts made before the bar was given up for a defect; None when it was not. ``tail`` is then what
        is good of the rest, None when nothing is; all else of it is scrap.
    """

    tail: Length | None = None
    spoiled: tuple[str, ...] = ()
    place: str = ""
    came_out: tuple[tuple[str, Length], ...] = ()
    made: int | None = None


@dataclass(frozen=True, slots=True)
class BarCut:
    """The offcut that is born, if the tail is long enough to keep, and the ledger's entries."""

    born: Offcut | None
    entries: tuple[Entry, ...]


def cut_bar(
    bar: PlannedBar, material: Material, saw: SawRules, report: CutReport, *, thing: str, plan: str, tag: str
) -> BarCut:
    """
    Account for a cut bar: length = trim + good + spoiled + kerf + tail + measuring difference, exactly.

    Parameters
    ----------
    thing
        Tag or shelf the bar came from.
    plan
        The plan that is being cut.
    tag
        Tag for the offcut that may be born.

    Raises
    ------
    ReportNotPossible
        When a spoiled piece is not on the bar, or the tail is longer than the bar has left.
    """
    named = {cut.piece for cut in bar.cuts}
    strange = [piece for piece in report.spoiled if piece not in named]
    if strange:
        raise ReportNotPossible(f"Bar {bar.number} has no piece {strange[0]!r}.")
    long = [piece for piece, length in report.came_out if not 0 < length <= bar.length]
    if long:
        raise ReportNotPossible(f"Bar {bar.number} cannot give {long[0]!r} such a length.")
    bar = given_up(bar, report)
    tail = tail_left(bar, report)
    # A bar given up leaves at most all that lies behind its cuts; a new one may be longer than it says.
    most = bar.length - 1 if report.made is None else bar.tail + over_measure(bar.length) + TAPE
    if not 0 <= tail <= min(most, bar.length - 1):
        raise ReportNotPossible(f"Bar {bar.number} cannot leave a tail of {mm_text(tail)} mm.")
    good = sum(cut.length for cut in bar.cuts if cut.piece not in report.spoiled)
    behind = _behind(bar, report)
    spoiled = sum(cut.length for cut in bar.cuts) - good + bar.tail - behind
    kept = tail > 0 and tail >= saw.keep_length
    damaged = _damaged(behind - tail, report)
    cut = Entry(
        kind=Kind.CUT,
        thing=thing,
        bars=0 if bar.offcut else 1,
        plan=plan,
        bar=bar.number,
        postings=moved(
            (Account.STORE, -bar.length),
            (Account.TRIM, bar.head),
            (Account.GOOD, good),
            (Account.KERF, bar.kerf_loss),
            (Account.SCRAP, spoiled + tail + damaged),
            (Account.MEASURE, behind - tail - damaged),
        ),
    )
    if not kept:
        return BarCut(None, (cut,))
    born = Offcut(
        tag=tag,
        family=material.family,
        finish=material.finish,
        part=material.part,
        length=tail,
        # The last stroke leaves one clean face; the far end is as raw as the bar's was.
        left=EndState.CLEAN,
        right=EndState.RAW if bar.tail_loss > NO_LENGTH else EndState.CLEAN,
        lot=material.lot,
        place=report.place,
    )
    # The tail is scrap of the cut until its tag takes it back; both entries are written together.
    back = Entry(
        kind=Kind.TAIL,
        thing=tag,
        plan=plan,
        bar=bar.number,
        postings=moved((Account.SCRAP, -tail), (Account.STORE, tail)),
    )
    return BarCut(born, (cut, back))


def given_up(bar: PlannedBar, report: CutReport) -> PlannedBar:
    """
    Give a bar as it was cut: whole, or the cuts made before it was given up with all behind them as its tail.

    The blade's loss is what lies before the next piece beside the pieces made, exactly as planned.

    Raises
    ------
    ReportNotPossible
        When as many cuts are said to be made as the bar has, or more: then it was cut.
    """
    made = report.made
    if made is None:
        return bar
    if made >= len(bar.cuts):
        raise ReportNotPossible(
            f"Bar {bar.number} has {len(bar.cuts)} cuts. When all are made, it is cut: report its tail."
        )
    following, cuts = bar.cuts[made], bar.cuts[:made]
    begin = following.face - following.length if cuts else NO_LENGTH
    head = bar.head if cuts else NO_LENGTH
    good = sum(cut.length for cut in cuts)
    rest = Length(bar.length - head - begin)
    return replace(bar, cuts=cuts, head=head, kerf_loss=Length(begin - good), tail=rest)


def _damaged(missing: int, report: CutReport) -> int:
    """Give what is missing from the tail as scrap where a bar was given up, instead of as a wrong measure."""
    return 0 if report.made is None else max(missing, 0)


def tail_left(bar: PlannedBar, report: CutReport) -> Length:
    """
    Give the tail: as measured, else as planned less what pieces came out too long.

    Of a bar that was given up nothing is good that was not measured.
    """
    if report.tail is not None:
        return report.tail
    if report.made is not None:
        return NO_LENGTH
    return Length(max(_behind(bar, report), 0))


def _behind(bar: PlannedBar, report: CutReport) -> int:
    """Give what lies behind the last cut: more than planned by what pieces came out shorter."""
    lengths = {cut.piece: cut.length for cut in bar.cuts}
    return bar.tail + sum(lengths[piece] - came for piece, came in report.came_out)


def keep_spoiled(
    bar: PlannedBar,
    material: Material,
    piece: str,
    length: Length,
    *,
    saw: SawRules,
    ends: tuple[EndState, EndState],
    plan: str,
    tag: str,
) -> Move:
    """
    Give what came out of a spoiled piece a tag: it goes on the rack, or is scrap where it is too short.

    Either way an open piece of its plan may still be cut of it; ``rack.retrieve`` takes it out of the scrap.

    Parameters
    ----------
    saw
        Its keep length decides (common practice, no source).
    ends
        State of its ends; a mitred one has to be cut square first.
    plan
        The plan that is being cut.
    tag
        Its tag.
    """
    short = length < saw.keep_length
    born = Offcut(
        tag=tag,
        family=material.family,
        finish=material.finish,
        part=material.part,
        length=length,
        left=ends[0],
        right=ends[1],
        lot=material.lot,
        place="at the saw",
    )
    # The cut has counted all of the piece as scrap already; what is scrap for good moves nothing any more.
    entry = Entry(
        kind=Kind.SCRAP if short else Kind.TAIL,
        thing=tag,
        plan=plan,
        bar=bar.number,
        postings=() if short else moved((Account.SCRAP, -length), (Account.STORE, length)),
        reason=f"came out of {piece}" + (f", shorter than {mm_text(saw.keep_length)} mm" if short else ""),
    )
    return Move(Tagged(offcut=born, state=State.SCRAPPED if short else State.FREE), entry)


def cut_cover(
    bar: PlannedBar,
    report: CutReport,
    covers: Mapping[str, Length],
    *,
    thing: str,
    plan: str,
    kept: bool,
) -> Entry:
    """
    Account for the cover bar that was cut together with a channel bar.

    Parameters
    ----------
    covers
        Length of the cover of each piece of the bar.
    kept
        Whether the channel's tail went back to the rack; its cover stays with it.
    """
    bar = given_up(bar, report)
    tail = tail_left(bar, report)
    behind = _behind(bar, report)
    damaged = _damaged(behind - tail, report)
    good = sum(covers.get(cut.piece, cut.length) for cut in bar.cuts if cut.piece not in report.spoiled)
    rest = bar.length - bar.head - bar.kerf_loss - good - behind
    return Entry(
        kind=Kind.CUT,
        thing=thing,
        bars=1,
        plan=plan,
        bar=bar.number,
        postings=moved(
            (Account.STORE, -bar.length),
            (Account.TRIM, bar.head),
            (Account.GOOD, good),
            (Account.KERF, bar.kerf_loss),
            (Account.SCRAP, damaged + (rest if kept else rest + tail)),
            (Account.PAIRED, tail if kept else 0),
            (Account.MEASURE, behind - tail - damaged),
        ),
    )


def use_up(tagged: Tagged, plan: str) -> Tagged:
    """
    Give the offcut after the saw: cut, by this plan.

    Raises
    ------
    StockConflict
        When the plan has not reserved it.
    """
    require_reserved(tagged, plan)
    return replace(tagged, state=State.CUT, plan=plan)


def not_made(bar: PlannedBar, report: CutReport) -> tuple[str, ...]:
    """Give the pieces of a bar that were not cut because it was given up; none when it was cut."""
    return () if report.made is None else tuple(cut.piece for cut in bar.cuts[report.made :])


def open_again(bar: PlannedBar, spoiled: Collection[str], *, cut: bool) -> tuple[str, ...]:
    """Give the pieces of a bar that must be made again: the spoiled ones, or all when it was not cut."""
    return tuple(c.piece for c in bar.cuts if not cut or c.piece in spoiled)
