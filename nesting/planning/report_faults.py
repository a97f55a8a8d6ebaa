"""Whether a report from the shop fits the plan it is of."""

from __future__ import annotations

from collections.abc import Iterator

from nesting.domain.made import TAPE, over_measure
from nesting.domain.plan import GroupPlan, Plan, PlannedBar
from nesting.domain.report import BarReport, Outcome, ShopReport
from nesting.domain.rules import SawRules
from nesting.errors import Finding, Severity, Where
from nesting.units import mm_text


def tail_range(bar: PlannedBar, saw: SawRules, report: BarReport) -> tuple[int, int]:
    """
    Give the shortest and the longest tail a done bar can have.

    Measured less expected lies between 0 and the bar's over-measure, within a step of the saw a cut and
    what a tape can be read to. A piece that came out shorter leaves a longer tail; a bar that was short
    itself may have left any shorter one.
    """
    lengths = {cut.piece: int(cut.length) for cut in bar.cuts}
    slack = TAPE + len(bar.cuts) * saw.step
    least, most = int(bar.tail), int(bar.tail)
    for miscut in report.miscuts:
        planned = lengths[miscut.piece]
        if miscut.length is None:
            least, most = 0, most + planned + saw.kerf
        else:
            least, most = least + planned - miscut.length, most + planned - miscut.length
    least = 0 if report.short else least
    more = 0 if bar.offcut else over_measure(bar.length)
    return max(least - slack, 0), max(most + more + slack, 0)


def report_faults(plan: Plan, report: ShopReport) -> Iterator[Finding]:
    """Give everything in a report that does not fit the plan, each with what to do about it."""
    if report.plan and report.plan != plan.id:
        yield _fault(
            Where("report"), "other-plan", report.plan, f"The report is of another plan than {plan.id}."
        )
    bars = {bar.number: (group, bar) for group in plan.groups for bar in group.bars}
    rack = {offcut.tag for offcut in plan.request.offcuts}
    rack.update(bar.tail_tag for _, bar in bars.values() if bar.tail_tag)
    for tag in report.lost:
        if tag not in rack:
            yield _fault(Where("report"), "unknown-offcut", tag, "The plan's rack has no such offcut.")
    for one in report.bars:
        where = one.where if one.where.source else Where("report", f"bar {one.bar}")
        if one.bar not in bars:
            yield _fault(where, "unknown-bar", str(one.bar), f"Plan {plan.id} has no such bar.")
            continue
        yield from _bar_faults(*bars[one.bar], one, where)


def _bar_faults(group: GroupPlan, bar: PlannedBar, one: BarReport, where: Where) -> Iterator[Finding]:
    name = f"Bar {bar.number}"
    if bar.state.cut:
        yield _fault(
            where, "bar-cut-already", one.outcome.value, f"{name} was reported {bar.state.value} before."
        )
        return
    if one.outcome is Outcome.NOT_FOUND and not bar.offcut:
        yield _fault(
            where,
            "new-bar-not-found",
            bar.source,
            f"{name} is a new bar, not an offcut; as long as it is not there it is simply open.",
        )
    if one.made > len(bar.cuts):
        message = f"{name} has {len(bar.cuts)} cuts."
        yield _fault(where, "cuts-made", str(one.made), message)
        return
    if one.outcome is Outcome.DONE and one.made not in (0, len(bar.cuts)):
        message = f"{name} has {len(bar.cuts)} cuts; with fewer made it is stopped, not done."
        yield _fault(where, "cuts-made", str(one.made), message)
        return
    made = {cut.piece for cut in (bar.cuts[: one.made] if one.outcome is Outcome.STOPPED else bar.cuts)}
    strange = [miscut.piece for miscut in one.miscuts if miscut.piece not in made]
    for piece in strange:
        yield _fault(where, "piece-not-on-bar", piece, f"{name} has no such piece among the cuts it made.")
    for miscut in one.miscuts:
        if miscut.length is not None and miscut.length > bar.length:
            message = f"{name} is {mm_text(bar.length)} mm long; no piece of it can be longer."
            yield _fault(where, "miscut-length", mm_text(miscut.length), message)
    for span in one.defects:
        if span.end > bar.length + over_measure(bar.length):
            message = f"{name} is {mm_text(bar.length)} mm long; the damage ends behind it."
            yield _fault(where, "defect-off-bar", mm_text(span.end), message)
    lengths = {cut.piece: cut.length for cut in bar.cuts}
    if one.defects and any(
        m.length is not None and m.length > lengths[m.piece] for m in one.miscuts if m.piece in lengths
    ):
        message = f"{name}: where a piece came out too long, report the metal up to its end as damaged."
        yield _fault(where, "damage-behind-long-piece", "", message)
    if strange or one.tail is None:
        return
    if one.outcome is Outcome.DONE:
        least, most = tail_range(bar, group.saw, one)
    else:
        made_cuts = sum(cut.length + group.saw.kerf for cut in bar.cuts[: one.made])
        rest = bar.length - (bar.head + made_cuts if one.made else 0)
        spread = (
            TAPE
            + one.made * group.saw.step
            + sum(cut.length for cut in bar.cuts if cut.piece in {m.piece for m in one.miscuts})
        )
        least, most = max(rest - spread, 0), rest + spread + over_measure(bar.length)
    if not least <= one.tail <= most:
        expected = mm_text(least) if least == most else f"{mm_text(least)} to {mm_text(most)}"
        message = (
            f"{name} can have {expected} mm left. One of its pieces is probably wrong: measure them, and "
            "report what came out."
        )
        if one.tail < least and one.outcome is Outcome.DONE:
            message += " If they are right, the bar itself was short: say so (column 'bar was short': yes)."
        yield _fault(where, "tail-out-of-range", mm_text(one.tail), message)


def _fault(where: Where, code: str, found: str, message: str) -> Finding:
    return Finding(severity=Severity.ERROR, code=code, where=where, found=found, message=message)
