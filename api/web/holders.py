"""Plans that hold what somebody asks for, as people know them: their numbers, and who released them."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from sqlalchemy import select
from sqlalchemy.orm import Session

from api.store.models import PlanRow
from nesting.stockroom.states import StockConflict


@dataclass(frozen=True, slots=True)
class PlanHolder:
    """A plan that has something; ``by`` is who released it, empty when nobody has."""

    number: int
    by: str

    @property
    def words(self) -> str:
        """Name the plan as the shop does."""
        return f"plan P{self.number}"


def plan_holders(session: Session, plans: Collection[str]) -> dict[str, PlanHolder]:
    """Give the plans of some ids; ids that are no plan's are left out."""
    query = select(PlanRow.id, PlanRow.number, PlanRow.released_by)
    rows = session.execute(query.where(PlanRow.id.in_(set(plans) - {""})))
    return {str(row.id): PlanHolder(int(row.number), row.released_by or "") for row in rows}


def conflict_words(session: Session, why: StockConflict) -> tuple[str, str]:
    """Say what is in the way with the number of the plan that has it, and give who released that plan."""
    holder = plan_holders(session, [why.plan]).get(why.plan)
    if holder is None:
        return str(why), ""
    return str(why).replace(f"plan {why.plan}", holder.words), holder.by
