"""What must be true of plans that go on from each other: none twice, each piece made once."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from api.jobs.shares import followed
from api.plans.bar_record import from_json
from api.plans.states import BarState, PlanState
from api.store.engine import Store
from api.store.models import BarRow, LedgerRow, PlanRow
from nesting.stockroom.ledger import Kind


def not_conserved(store: Store, followers: Mapping[str, Sequence[str]], delivered: int) -> list[str]:
    """
    Give what is broken between plans that go on from each other, in words; none when all is well.

    Parameters
    ----------
    followers
        The plans that were asked to go on from a plan, by that plan.
    delivered
        Bars that were taken in as deliveries.
    """
    with store.read_one_moment() as session:
        return [
            *_followers(session, followers),
            *_pieces(session),
            *_deliveries(session, delivered),
        ]


def _followers(session: Session, asked: Mapping[str, Sequence[str]]) -> Iterator[str]:
    """Hold every plan to the followers that were asked for: a re-plan sent again makes no second one."""
    there: defaultdict[str, set[str]] = defaultdict(set)
    states = {}
    for row in session.scalars(select(PlanRow)):
        states[row.id] = row.state
        if row.parent is not None:
            there[row.parent].add(row.id)
    for plan in sorted(there.keys() | asked.keys()):
        if there[plan] != set(asked.get(plan, ())):
            yield f"plan {plan} is followed by {sorted(there[plan])}, asked for were {asked.get(plan, ())}"
        if states[plan] not in (PlanState.FINISHED.value, PlanState.WITHDRAWN.value):
            yield f"plan {plan} was planned again and is {states[plan]}"


def _pieces(session: Session) -> Iterator[str]:
    """Count the good pieces of each chain: none is cut twice, a finished chain has all of them."""
    followed_by_some = set(session.scalars(select(PlanRow.parent).where(PlanRow.parent.is_not(None))))
    for last in session.scalars(select(PlanRow).where(PlanRow.id.not_in(followed_by_some))):
        chain = [last.id, *followed(session, last.id)]
        good = Counter[str]()
        for bar in session.scalars(
            select(BarRow).where(BarRow.plan_id.in_(chain), BarRow.state == BarState.CUT.value)
        ):
            made = from_json(bar.record).bar
            if made.state.cut:
                continue  # counted with the plan it was cut for
            spoiled = (bar.report or {}).get("spoiled", ())
            good.update(cut.piece for cut in made.cuts if cut.piece not in spoiled)
        for piece, times in good.items():
            if times > 1:
                yield f"piece {piece} of plan {last.id} was made {times} times"
        placed = (last.summary or {}).get("pieces", 0)
        if last.state == PlanState.FINISHED.value and len(good) != placed:
            yield f"plan {last.id} is finished with {len(good)} pieces of {placed}"


def _deliveries(session: Session, delivered: int) -> Iterator[str]:
    booked = session.execute(
        select(func.coalesce(func.sum(LedgerRow.bars), 0)).where(
            LedgerRow.kind == Kind.RECEIVE.value, LedgerRow.reason == "delivery"
        )
    ).scalar_one()
    if booked != delivered:
        yield f"{delivered} bars were delivered, the ledger has {booked}"
