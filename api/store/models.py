"""The tables. Lengths are nanometres, money ten-thousandths, times microseconds since 1970 UTC."""

from __future__ import annotations

from typing import Any

from sqlalchemy import (
    JSON,
    BigInteger,
    ForeignKey,
    Index,
    Integer,
    LargeBinary,
    String,
    Text,
    UniqueConstraint,
)
from sqlalchemy.orm import DeclarativeBase, Mapped, mapped_column

# SQLite counts up only an INTEGER primary key; PostgreSQL should have room for more.
Serial = BigInteger().with_variant(Integer, "sqlite")
Fields = dict[str, Any]


class Base(DeclarativeBase):
    """Declares a table."""

    type_annotation_map = {int: BigInteger, Fields: JSON, list[str]: JSON, str: Text}  # noqa: RUF012 (SQLAlchemy reads it so)


class KeyRow(Base):
    """An API key: never the key itself, only its digest."""

    __tablename__ = "keys"
    id: Mapped[str] = mapped_column(String(16), primary_key=True)
    label: Mapped[str]
    digest: Mapped[str]
    scopes: Mapped[str]
    made_at: Mapped[int]
    revoked_at: Mapped[int | None]


class FamilyRow(Base):
    """A channel family of the catalogue, as an exchange document."""

    __tablename__ = "families"
    name: Mapped[str] = mapped_column(String(200), primary_key=True)
    document: Mapped[Fields]
    version: Mapped[int] = mapped_column(default=1)
    changed_at: Mapped[int]


class ShelfRow(Base):
    """Whole bars of one stock length."""

    __tablename__ = "shelves"
    id: Mapped[str] = mapped_column(String(32), primary_key=True)
    family: Mapped[str] = mapped_column(String(200))
    finish: Mapped[str] = mapped_column(String(200))
    part: Mapped[str] = mapped_column(String(20))
    length: Mapped[int]
    price: Mapped[int | None]
    orderable: Mapped[bool]
    pack: Mapped[int] = mapped_column(default=1, server_default="1")
    minimum: Mapped[int] = mapped_column(default=0, server_default="0")
    breaks: Mapped[list[Fields]] = mapped_column(JSON, default=list, server_default="[]")
    hand_value: Mapped[int | None]
    supply: Mapped[int | None]  # bars that can be bought; as many as needed when none is said
    supplier: Mapped[str] = mapped_column(default="", server_default="")
    lead_days: Mapped[int | None]
    currency: Mapped[str] = mapped_column(String(3), default="", server_default="")
    free: Mapped[int] = mapped_column(default=0)
    quarantined: Mapped[int] = mapped_column(default=0)
    version: Mapped[int] = mapped_column(default=1)
    changed_at: Mapped[int]
    __table_args__ = (UniqueConstraint("family", "finish", "part", "length", name="one_shelf_a_length"),)


class HoldRow(Base):
    """Whole bars a plan has reserved on a shelf."""

    __tablename__ = "holds"
    shelf_id: Mapped[str] = mapped_column(ForeignKey("shelves.id"), primary_key=True)
    plan_id: Mapped[str] = mapped_column(ForeignKey("plans.id"), primary_key=True)
    bars: Mapped[int]
    __table_args__ = (Index("holds_by_plan", "plan_id"),)


class OffcutRow(Base):
    """One tagged offcut, for ever: a tag is never used again."""

    __tablename__ = "offcuts"
    tag: Mapped[str] = mapped_column(String(64), primary_key=True)
    family: Mapped[str] = mapped_column(String(200))
    finish: Mapped[str] = mapped_column(String(200))
    part: Mapped[str] = mapped_column(String(20))
    length: Mapped[int]
    left: Mapped[str] = mapped_column("left_end", String(10))
    right: Mapped[str] = mapped_column("right_end", String(10))
    lot: Mapped[str] = mapped_column(default="")
    place: Mapped[str] = mapped_column(default="")
    value: Mapped[int | None]
    state: Mapped[str] = mapped_column(String(20))
    plan_id: Mapped[str | None] = mapped_column(ForeignKey("plans.id"))
    born_plan: Mapped[str | None] = mapped_column(ForeignKey("plans.id"))
    born_bar: Mapped[int | None]
    born_at: Mapped[int]
    seen_at: Mapped[int]
    version: Mapped[int] = mapped_column(default=1)
    __table_args__ = (
        Index("offcuts_by_material", "state", "family", "finish", "part"),
        Index("offcuts_by_plan", "plan_id"),
    )


class LedgerRow(Base):
    """One movement; the database refuses to change or delete it."""

    __tablename__ = "ledger"
    id: Mapped[int] = mapped_column(Serial, primary_key=True, autoincrement=True)
    at: Mapped[int]
    kind: Mapped[str] = mapped_column(String(20))
    thing: Mapped[str]
    bars: Mapped[int]
    plan_id: Mapped[str | None]
    bar: Mapped[int | None]
    postings: Mapped[Fields]
    reason: Mapped[str]
    by: Mapped[str] = mapped_column("by_whom", Text)
    __table_args__ = (
        Index("ledger_by_thing", "thing"),
        Index("ledger_by_plan", "plan_id"),
        {"sqlite_autoincrement": True},
    )


class PlanRow(Base):
    """One plan from request to last bar; while it is queued this row is the queue."""

    __tablename__ = "plans"
    number: Mapped[int] = mapped_column(Serial, primary_key=True, autoincrement=True)
    id: Mapped[str] = mapped_column(String(32), unique=True)
    state: Mapped[str] = mapped_column(String(20))
    title: Mapped[str] = mapped_column(default="")
    priority: Mapped[int] = mapped_column(default=0)
    seed: Mapped[int] = mapped_column(default=0)
    seconds: Mapped[float]
    parent: Mapped[str | None] = mapped_column(String(32))
    created_at: Mapped[int]
    created_by: Mapped[str]
    changed_at: Mapped[int]
    version: Mapped[int] = mapped_column(default=1)
    cancel_asked: Mapped[bool] = mapped_column(default=False)
    attempt: Mapped[int] = mapped_column(default=0)
    crashes: Mapped[int] = mapped_column(default=0)
    worker: Mapped[str | None] = mapped_column(String(64))
    lease_until: Mapped[int | None]
    progress: Mapped[Fields | None]
    released_at: Mapped[int | None]
    released_by: Mapped[str | None]
    digest: Mapped[str | None] = mapped_column(String(32))
    summary: Mapped[Fields | None]
    fault: Mapped[str | None]
    reason: Mapped[str] = mapped_column(
        default="", server_default=""
    )  # why it was withdrawn or planned again
    closed_by: Mapped[str | None]
    __table_args__ = (
        Index("plans_to_do", "state", "priority", "number"),
        Index("plans_by_worker", "worker"),
        {"sqlite_autoincrement": True},  # tags carry the number, so it must never come back
    )


class DocumentRow(Base):
    """The request or the result of a plan: a compressed exchange document."""

    __tablename__ = "documents"
    plan_id: Mapped[str] = mapped_column(ForeignKey("plans.id"), primary_key=True)
    kind: Mapped[str] = mapped_column(String(10), primary_key=True)
    body: Mapped[bytes] = mapped_column(LargeBinary)


class BarRow(Base):
    """One bar of a released plan."""

    __tablename__ = "plan_bars"
    plan_id: Mapped[str] = mapped_column(ForeignKey("plans.id"), primary_key=True)
    number: Mapped[int] = mapped_column(Integer, primary_key=True, autoincrement=False)
    state: Mapped[str] = mapped_column(String(20))
    source: Mapped[str]
    record: Mapped[Fields]
    open_pieces: Mapped[list[str]]
    report: Mapped[Fields | None]
    reported_at: Mapped[int | None]
    reported_by: Mapped[str | None]
    born: Mapped[str | None] = mapped_column(String(64))


class JobRow(Base):
    """One customer job."""

    __tablename__ = "jobs"
    id: Mapped[str] = mapped_column(String(32), primary_key=True)
    name: Mapped[str] = mapped_column(String(200), unique=True)
    created_at: Mapped[int]


class JobLineRow(Base):
    """One collected run or piece line of a job, and the plan that covers it."""

    __tablename__ = "job_lines"
    job_id: Mapped[str] = mapped_column(ForeignKey("jobs.id"), primary_key=True)
    line: Mapped[str] = mapped_column(String(200), primary_key=True)
    kind: Mapped[str] = mapped_column(String(20))
    document: Mapped[Fields]
    plan_id: Mapped[str | None] = mapped_column(ForeignKey("plans.id"))
    created_at: Mapped[int]


class JobPlanRow(Base):
    """What a job takes from a plan."""

    __tablename__ = "job_plans"
    job_id: Mapped[str] = mapped_column(ForeignKey("jobs.id"), primary_key=True)
    plan_id: Mapped[str] = mapped_column(ForeignKey("plans.id"), primary_key=True)
    pieces: Mapped[int]
    unplaced: Mapped[int]
    good: Mapped[int]
    consumed: Mapped[int]
    cost: Mapped[int]
    currency: Mapped[str]
    done: Mapped[int] = mapped_column(default=0)
    done_length: Mapped[int] = mapped_column(default=0)
    __table_args__ = (Index("job_plans_by_plan", "plan_id"),)


class ReplyRow(Base):
    """What a request with an idempotency key was answered, for its repetition."""

    __tablename__ = "replies"
    caller: Mapped[str] = mapped_column(String(32), primary_key=True)
    key: Mapped[str] = mapped_column(String(200), primary_key=True)
    digest: Mapped[str] = mapped_column(String(64))
    status: Mapped[int]
    location: Mapped[str]
    body: Mapped[str]
    at: Mapped[int]


class WorkerRow(Base):
    """A worker that has been heard of lately."""

    __tablename__ = "workers"
    id: Mapped[str] = mapped_column(String(64), primary_key=True)
    host: Mapped[str]
    process: Mapped[int]
    solvers: Mapped[int]
    started_at: Mapped[int]
    beat_at: Mapped[int]


class DraftRow(Base):
    """A list on its way to a plan: the file as it came, the cells corrected since, what was set beside it."""

    __tablename__ = "drafts"
    id: Mapped[str] = mapped_column(String(32), primary_key=True)
    name: Mapped[str] = mapped_column(String(200))
    body: Mapped[bytes] = mapped_column(LargeBinary, deferred=True)
    size: Mapped[int]
    corrections: Mapped[list[list[str]]] = mapped_column(JSON)
    choices: Mapped[Fields]
    made_at: Mapped[int]
    made_by: Mapped[str]
    changed_at: Mapped[int]
    version: Mapped[int] = mapped_column(default=1)
    plan_id: Mapped[str | None] = mapped_column(String(32))
    planned_version: Mapped[int | None]
    __table_args__ = (Index("drafts_by_change", "changed_at"),)
