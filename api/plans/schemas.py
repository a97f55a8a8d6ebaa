"""Plans as they are answered."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Self

from pydantic import BaseModel, ConfigDict, Field
from sqlalchemy.orm import Session

from api.plans.states import PlanState
from api.plans.succession import Relative, replaced_by
from api.store.models import PlanRow
from api.web.lengths import LengthRead, Moment, length_read, moment, money_read
from api.web.problems import FindingRead
from nesting.units import Unit


class ProgressRead(BaseModel):
    """How the search stands; the group is the one that reported last."""

    groups: int = Field(description="Materials to be nested.")
    done: int = Field(description="Materials that are done.")
    group: str | None = Field(description="Material at work.")
    phase: str | None = Field(description="Step of the search.")
    best: int | None = Field(description="Cost of the best plan so far: bars, or ten-thousandths of money.")
    bound: int | None = Field(description="Proven lower bound on it.")
    gap: float | None = Field(description="(best - bound) / best.")
    priced: bool | None = Field(
        default=None, description="Whether best and bound are money; else they count new bars."
    )

    @classmethod
    def of(cls, progress: dict[str, Any]) -> Self:
        """Give the latest news of a search."""
        return cls.model_validate({name: progress.get(name) for name in cls.model_fields})


class ChoiceRead(BaseModel):
    """An open piece that a spoiled one can still become."""

    piece: str
    length: LengthRead
    left: LengthRead = Field(description="What would be left of it after the stroke.")


class OfferRead(BaseModel):
    """What a piece that came out wrong can still become."""

    piece: str = Field(description="What it should have been.")
    bar: int = Field(description="The bar it was cut from.")
    tag: str = Field(description="What it is called now.")
    length: LengthRead = Field(description="What came out.")
    choices: list[ChoiceRead] = Field(description="Every open piece it can become, longest first.")
    becomes: list[str] = Field(description="The pieces that this plan cuts from it.")

    @classmethod
    def of(cls, offer: dict[str, Any], unit: Unit) -> Self:
        """Give an offer kept with a plan."""
        choices = [
            ChoiceRead(
                piece=one["piece"],
                length=length_read(one["length"], unit),
                left=length_read(one["left"], unit),
            )
            for one in offer["choices"]
        ]
        lengths = {"length": length_read(offer["length"], unit), "choices": choices}
        return cls.model_validate(offer | lengths)


class AfreshRead(BaseModel):
    """What planning everything open afresh would come to, where that is better than the least change."""

    bars: int = Field(description="Bars and offcuts opened, those cut already included.")
    unplaced: int = Field(description="Pieces or runs left out.")
    cost: str | None = Field(description="Sum of the bars' prices; null when a price is unknown.")


class SummaryRead(BaseModel):
    """What the plan comes to; used = good + kerf + trim + returned + scrap, exactly."""

    digest: str = Field(description="The same request and seed always have the same one.")
    bars: int = Field(description="Bars and offcuts opened.")
    offcuts_used: int = Field(description="Of these, offcuts from the rack.")
    pieces: int = Field(description="Pieces placed.")
    pieces_done: int = Field(description="Of these, cut before by a plan that this one goes on from.")
    unplaced: int = Field(description="Pieces or runs left out; the result says why.")
    used: LengthRead = Field(description="Sum of the opened bars.")
    good: LengthRead = Field(description="Sum of the pieces.")
    kerf: LengthRead = Field(description="Turned into chips.")
    trim: LengthRead = Field(description="Head trims.")
    returned: LengthRead = Field(description="Tails kept as offcuts.")
    scrap: LengthRead = Field(description="Tails thrown away.")
    cost: str | None = Field(description="Sum of the bars' prices; null when a price is unknown.")
    bound: str | None = Field(description="No plan can cost less; null when a price is unknown.")
    currency: str = Field(description="ISO 4217 code; empty when none was named.")
    proved: bool = Field(description="Whether no cheaper plan exists, for every material.")
    jobs: list[str] = Field(description="Customer jobs in the plan.")
    revision: int = Field(description="How many plans of the same pieces came before this one.")
    offers: list[OfferRead] = Field(description="What the pieces that came out wrong can still become.")
    afresh: AfreshRead | None = Field(description="The plan of all open bars afresh, where it is better.")

    @classmethod
    def of(cls, digest: str, summary: dict[str, Any], unit: Unit) -> Self:
        """Give the figures kept with a plan."""
        lengths = {
            name: length_read(summary[name], unit)
            for name in ("used", "good", "kerf", "trim", "returned", "scrap")
        }
        plain = {
            name: summary[name]
            for name in ("bars", "offcuts_used", "pieces", "unplaced", "currency", "proved", "jobs")
        }
        cost, bound = money_read(summary["cost"]), money_read(summary["bound"])
        afresh = summary.get("alternative")
        following = {
            "pieces_done": summary.get("pieces_done", 0),
            "revision": summary.get("revision", 0),
            "offers": [OfferRead.of(offer, unit) for offer in summary.get("offers", ())],
            "afresh": afresh and {**afresh, "cost": money_read(afresh["cost"])},
        }
        figures = {"digest": digest, "cost": cost, "bound": bound}
        return cls.model_validate(figures | lengths | plain | following)


class SuccessorRead(BaseModel):
    """The plan that has taken another one's place."""

    id: str = Field(description="32 hexadecimal digits.")
    number: int = Field(description="Short number; people call it P and this number.")


class LinksRead(BaseModel):
    """Where the rest of the plan is."""

    self: str = Field(description="This plan.")
    progress: str = Field(description="How the search stands, once or as a stream.")
    result: str = Field(description="The whole plan: JSON, workbook or drawing.")
    bars: str = Field(description="Its bars, once released.")


class PlanRead(BaseModel):
    """A plan, from the queue to the last bar."""

    model_config = ConfigDict(
        json_schema_extra={
            "example": {
                "id": "019a2f6be1d00f3c5b7a9e4d2c1b0a98",
                "number": 17,
                "state": "queued",
                "title": "Orrelbeck Yard",
                "priority": 0,
                "created_at": "2026-03-02T09:30:00.000000Z",
                "created_by": "purchasing",
                "changed_at": "2026-03-02T09:30:00.000000Z",
                "parent": None,
                "replaced_by": None,
                "progress": None,
                "summary": None,
                "findings": [],
                "fault": None,
                "reason": "",
                "closed_by": None,
                "cut_short": False,
                "links": {
                    "self": "/v1/plans/019a2f6be1d00f3c5b7a9e4d2c1b0a98",
                    "progress": "/v1/plans/019a2f6be1d00f3c5b7a9e4d2c1b0a98/progress",
                    "result": "/v1/plans/019a2f6be1d00f3c5b7a9e4d2c1b0a98/result",
                    "bars": "/v1/plans/019a2f6be1d00f3c5b7a9e4d2c1b0a98/bars",
                },
            }
        }
    )

    id: str = Field(description="32 hexadecimal digits.")
    number: int = Field(description="Short number; the tags of its offcuts begin with P and this number.")
    state: PlanState = Field(description="Where the plan stands.")
    title: str = Field(description="As the request says.")
    priority: int = Field(description="Higher ones are planned first.")
    created_at: Moment
    created_by: str = Field(description="Label of the key that sent it.")
    changed_at: Moment
    parent: str | None = Field(description="The plan this one re-plans.")
    replaced_by: SuccessorRead | None = Field(
        default=None,
        description="The plan that has taken this one's place when it was planned again: nobody cuts by this "
        "one any more, whether it is called finished or withdrawn. Null while none has.",
    )
    progress: ProgressRead | None = Field(description="Latest news of the search; null before and after.")
    summary: SummaryRead | None = Field(description="Null until there is a plan.")
    findings: list[FindingRead] = Field(description="What was noticed and did not refuse the request.")
    fault: str | None = Field(description="Why there is no plan, when the state is failed.")
    reason: str = Field(
        default="",
        description="Why it was withdrawn or planned again, in the words of who did it; why it failed.",
    )
    closed_by: str | None = Field(
        default=None,
        description="Label of the key that withdrew it or planned it again, or the worker that gave it up.",
    )
    cut_short: bool = Field(
        default=False, description="Whether the best plan so far was asked for before the search had ended."
    )
    links: LinksRead

    @classmethod
    def all(cls, session: Session, rows: Sequence[PlanRow], unit: Unit) -> list[Self]:
        """Give the rows of plans as they are answered, each with what has taken its place."""
        after = replaced_by(session, rows)
        return [cls._of(row, unit, after.get(row.id)) for row in rows]

    @classmethod
    def of(cls, session: Session, row: PlanRow, unit: Unit) -> Self:
        """Give a plan's row as it is answered."""
        return cls.all(session, [row], unit)[0]

    @classmethod
    def _of(cls, row: PlanRow, unit: Unit, successor: Relative | None) -> Self:
        path = f"/v1/plans/{row.id}"
        state = PlanState(row.state)
        at_work = state is PlanState.SOLVING and row.progress
        return cls(
            id=row.id,
            number=row.number,
            state=state,
            title=row.title,
            priority=row.priority,
            created_at=moment(row.created_at),
            created_by=row.created_by,
            changed_at=moment(row.changed_at),
            parent=row.parent,
            replaced_by=(
                SuccessorRead(id=successor.id, number=successor.number) if successor is not None else None
            ),
            progress=ProgressRead.of(row.progress) if at_work and row.progress else None,
            summary=SummaryRead.of(row.digest or "", row.summary, unit) if row.summary else None,
            findings=[
                FindingRead.model_validate(finding) for finding in (row.summary or {}).get("findings", ())
            ],
            fault=row.fault,
            reason=row.reason or row.fault or "",
            closed_by=row.closed_by,
            cut_short=row.cancel_asked,
            links=LinksRead(
                self=path, progress=f"{path}/progress", result=f"{path}/result", bars=f"{path}/bars"
            ),
        )
