"""What a report from the saw does: metal out of the store, tail back into it, in one stroke."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace

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
    """

    tail: Length | None = None
    spoiled: tuple[str, ...] = ()
    place: str = ""
    came_out: tuple[tuple[str, Length], ...] = ()


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
    lengths = {cut.piece: cut.length for cut in bar.cuts}
    strange = [piece for piece in report.spoiled if piece not in lengths]
    if strange:
        raise ReportNotPossible(f"Bar {bar.number} has no piece {strange[0]!r}.")
    long = [piece for piece, length in report.came_out if not 0 < length <= bar.length]
    if long:
        raise ReportNotPossible(f"Bar {bar.number} cannot give {long[0]!r} such a length.")
    tail = tail_left(bar, report)
    if tail < 0 or tail >= bar.length:
        raise ReportNotPossible(f"Bar {bar.number} cannot leave a tail of {mm_text(tail)} mm.")
    planned = {piece: lengths[piece] for piece in report.spoiled}
    good = sum(lengths.values()) - sum(planned.values())
    # A piece that came out shorter leaves more behind it: no measuring difference.
    spoiled = sum((planned | dict(report.came_out)).values())
    behind = bar.tail + sum(planned.values()) - spoiled
    kept = tail > 0 and tail >= saw.keep_length
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
            (Account.SCRAP, spoiled + tail),
            (Account.MEASURE, behind - tail),
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


def tail_left(bar: PlannedBar, report: CutReport) -> Length:
    """Give the tail: as measured, else as planned less what pieces came out too long."""
    if report.tail is not None:
        return report.tail
    lengths = {cut.piece: cut.length for cut in bar.cuts}
    return Length(max(bar.tail + sum(lengths[piece] - came for piece, came in report.came_out), 0))


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
    tail = tail_left(bar, report)
    good = sum(covers.get(cut.piece, cut.length) for cut in bar.cuts if cut.piece not in report.spoiled)
    rest = bar.length - bar.head - bar.kerf_loss - good - bar.tail
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
            (Account.SCRAP, rest if kept else rest + tail),
            (Account.PAIRED, tail if kept else 0),
            (Account.MEASURE, bar.tail - tail),
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


def open_again(bar: PlannedBar, spoiled: Collection[str], *, cut: bool) -> tuple[str, ...]:
    """Give the pieces of a bar that must be made again: the spoiled ones, or all when it was not cut."""
    return tuple(c.piece for c in bar.cuts if not cut or c.piece in spoiled)
