"""Reports under a key of their own: sent again because the answer was lost, they are answered the same."""

from __future__ import annotations

from sqlalchemy.orm import Session

from api.access.keys import Caller
from api.plans.bar_schemas import BarReport
from api.plans.cutting import get_bar, report_bar
from api.store.models import BarRow
from api.web.replies import Reply, digest, earlier_reply, keep_reply


def report_once(
    session: Session, plan_id: str, number: int, body: BarReport, key: str | None, caller: Caller, now: int
) -> BarRow:
    """
    Take in a report, or, when the same one has come before, show what became of the bar.

    Parameters
    ----------
    key
        Idempotency key of the report; without one the report's own words tell whether it is the same.

    Raises
    ------
    Problem
        When there is no such bar to report on, something else was reported before, or the key was used
        for another report.
    ReportNotPossible
        When the bar's own length contradicts the report.
    StockConflict
        When the bar is not this plan's any more.
    """
    asked = digest("report", plan_id, str(number), body.text())
    if earlier_reply(session, caller.id, key, asked):
        return get_bar(session, plan_id, number)
    _, row = report_bar(session, plan_id, number, body.outcome, body.to_domain(), body.words(), caller, now)
    keep_reply(session, caller.id, key, asked, Reply(200, number), now)
    return row
