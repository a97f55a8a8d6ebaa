"""The first tables."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the change."""
    op.create_table(
        "families",
        sa.Column("name", sa.String(length=200), nullable=False),
        sa.Column("document", sa.JSON(), nullable=False),
        sa.Column("version", sa.BigInteger(), nullable=False),
        sa.Column("changed_at", sa.BigInteger(), nullable=False),
        sa.PrimaryKeyConstraint("name"),
    )
    op.create_table(
        "jobs",
        sa.Column("id", sa.String(length=32), nullable=False),
        sa.Column("name", sa.String(length=200), nullable=False),
        sa.Column("created_at", sa.BigInteger(), nullable=False),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("name"),
    )
    op.create_table(
        "keys",
        sa.Column("id", sa.String(length=16), nullable=False),
        sa.Column("label", sa.Text(), nullable=False),
        sa.Column("digest", sa.Text(), nullable=False),
        sa.Column("scopes", sa.Text(), nullable=False),
        sa.Column("made_at", sa.BigInteger(), nullable=False),
        sa.Column("revoked_at", sa.BigInteger(), nullable=True),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_table(
        "ledger",
        sa.Column(
            "id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=True, nullable=False
        ),
        sa.Column("at", sa.BigInteger(), nullable=False),
        sa.Column("kind", sa.String(length=20), nullable=False),
        sa.Column("thing", sa.Text(), nullable=False),
        sa.Column("bars", sa.BigInteger(), nullable=False),
        sa.Column("plan_id", sa.Text(), nullable=True),
        sa.Column("bar", sa.BigInteger(), nullable=True),
        sa.Column("postings", sa.JSON(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("by_whom", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id"),
        sqlite_autoincrement=True,
    )
    with op.batch_alter_table("ledger", schema=None) as batch_op:
        batch_op.create_index("ledger_by_plan", ["plan_id"], unique=False)
        batch_op.create_index("ledger_by_thing", ["thing"], unique=False)

    op.create_table(
        "plans",
        sa.Column(
            "number", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=True, nullable=False
        ),
        sa.Column("id", sa.String(length=32), nullable=False),
        sa.Column("state", sa.String(length=20), nullable=False),
        sa.Column("title", sa.Text(), nullable=False),
        sa.Column("priority", sa.BigInteger(), nullable=False),
        sa.Column("seed", sa.BigInteger(), nullable=False),
        sa.Column("seconds", sa.Double(), nullable=False),
        sa.Column("parent", sa.String(length=32), nullable=True),
        sa.Column("created_at", sa.BigInteger(), nullable=False),
        sa.Column("created_by", sa.Text(), nullable=False),
        sa.Column("changed_at", sa.BigInteger(), nullable=False),
        sa.Column("version", sa.BigInteger(), nullable=False),
        sa.Column("cancel_asked", sa.Boolean(), nullable=False),
        sa.Column("attempt", sa.BigInteger(), nullable=False),
        sa.Column("crashes", sa.BigInteger(), nullable=False),
        sa.Column("worker", sa.String(length=64), nullable=True),
        sa.Column("lease_until", sa.BigInteger(), nullable=True),
        sa.Column("progress", sa.JSON(), nullable=True),
        sa.Column("released_at", sa.BigInteger(), nullable=True),
        sa.Column("released_by", sa.Text(), nullable=True),
        sa.Column("digest", sa.String(length=32), nullable=True),
        sa.Column("summary", sa.JSON(), nullable=True),
        sa.Column("fault", sa.Text(), nullable=True),
        sa.PrimaryKeyConstraint("number"),
        sa.UniqueConstraint("id"),
        sqlite_autoincrement=True,
    )
    with op.batch_alter_table("plans", schema=None) as batch_op:
        batch_op.create_index("plans_by_worker", ["worker"], unique=False)
        batch_op.create_index("plans_to_do", ["state", "priority", "number"], unique=False)

    op.create_table(
        "replies",
        sa.Column("caller", sa.String(length=32), nullable=False),
        sa.Column("key", sa.String(length=200), nullable=False),
        sa.Column("digest", sa.String(length=64), nullable=False),
        sa.Column("status", sa.BigInteger(), nullable=False),
        sa.Column("location", sa.Text(), nullable=False),
        sa.Column("body", sa.Text(), nullable=False),
        sa.Column("at", sa.BigInteger(), nullable=False),
        sa.PrimaryKeyConstraint("caller", "key"),
    )
    op.create_table(
        "shelves",
        sa.Column("id", sa.String(length=32), nullable=False),
        sa.Column("family", sa.String(length=200), nullable=False),
        sa.Column("finish", sa.String(length=200), nullable=False),
        sa.Column("part", sa.String(length=20), nullable=False),
        sa.Column("length", sa.BigInteger(), nullable=False),
        sa.Column("price", sa.BigInteger(), nullable=True),
        sa.Column("orderable", sa.Boolean(), nullable=False),
        sa.Column("free", sa.BigInteger(), nullable=False),
        sa.Column("quarantined", sa.BigInteger(), nullable=False),
        sa.Column("version", sa.BigInteger(), nullable=False),
        sa.Column("changed_at", sa.BigInteger(), nullable=False),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("family", "finish", "part", "length", name="one_shelf_a_length"),
    )
    op.create_table(
        "workers",
        sa.Column("id", sa.String(length=64), nullable=False),
        sa.Column("host", sa.Text(), nullable=False),
        sa.Column("process", sa.BigInteger(), nullable=False),
        sa.Column("solvers", sa.BigInteger(), nullable=False),
        sa.Column("started_at", sa.BigInteger(), nullable=False),
        sa.Column("beat_at", sa.BigInteger(), nullable=False),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_table(
        "documents",
        sa.Column("plan_id", sa.String(length=32), nullable=False),
        sa.Column("kind", sa.String(length=10), nullable=False),
        sa.Column("body", sa.LargeBinary(), nullable=False),
        sa.ForeignKeyConstraint(
            ["plan_id"],
            ["plans.id"],
        ),
        sa.PrimaryKeyConstraint("plan_id", "kind"),
    )
    op.create_table(
        "holds",
        sa.Column("shelf_id", sa.String(length=32), nullable=False),
        sa.Column("plan_id", sa.String(length=32), nullable=False),
        sa.Column("bars", sa.BigInteger(), nullable=False),
        sa.ForeignKeyConstraint(
            ["plan_id"],
            ["plans.id"],
        ),
        sa.ForeignKeyConstraint(
            ["shelf_id"],
            ["shelves.id"],
        ),
        sa.PrimaryKeyConstraint("shelf_id", "plan_id"),
    )
    with op.batch_alter_table("holds", schema=None) as batch_op:
        batch_op.create_index("holds_by_plan", ["plan_id"], unique=False)

    op.create_table(
        "job_lines",
        sa.Column("job_id", sa.String(length=32), nullable=False),
        sa.Column("line", sa.String(length=200), nullable=False),
        sa.Column("kind", sa.String(length=20), nullable=False),
        sa.Column("document", sa.JSON(), nullable=False),
        sa.Column("plan_id", sa.String(length=32), nullable=True),
        sa.Column("created_at", sa.BigInteger(), nullable=False),
        sa.ForeignKeyConstraint(
            ["job_id"],
            ["jobs.id"],
        ),
        sa.ForeignKeyConstraint(
            ["plan_id"],
            ["plans.id"],
        ),
        sa.PrimaryKeyConstraint("job_id", "line"),
    )
    op.create_table(
        "job_plans",
        sa.Column("job_id", sa.String(length=32), nullable=False),
        sa.Column("plan_id", sa.String(length=32), nullable=False),
        sa.Column("pieces", sa.BigInteger(), nullable=False),
        sa.Column("unplaced", sa.BigInteger(), nullable=False),
        sa.Column("good", sa.BigInteger(), nullable=False),
        sa.Column("consumed", sa.BigInteger(), nullable=False),
        sa.Column("cost", sa.BigInteger(), nullable=False),
        sa.Column("currency", sa.Text(), nullable=False),
        sa.Column("done", sa.BigInteger(), nullable=False),
        sa.Column("done_length", sa.BigInteger(), nullable=False),
        sa.ForeignKeyConstraint(
            ["job_id"],
            ["jobs.id"],
        ),
        sa.ForeignKeyConstraint(
            ["plan_id"],
            ["plans.id"],
        ),
        sa.PrimaryKeyConstraint("job_id", "plan_id"),
    )
    with op.batch_alter_table("job_plans", schema=None) as batch_op:
        batch_op.create_index("job_plans_by_plan", ["plan_id"], unique=False)

    op.create_table(
        "offcuts",
        sa.Column("tag", sa.String(length=64), nullable=False),
        sa.Column("family", sa.String(length=200), nullable=False),
        sa.Column("finish", sa.String(length=200), nullable=False),
        sa.Column("part", sa.String(length=20), nullable=False),
        sa.Column("length", sa.BigInteger(), nullable=False),
        sa.Column("left_end", sa.String(length=10), nullable=False),
        sa.Column("right_end", sa.String(length=10), nullable=False),
        sa.Column("lot", sa.Text(), nullable=False),
        sa.Column("place", sa.Text(), nullable=False),
        sa.Column("value", sa.BigInteger(), nullable=True),
        sa.Column("state", sa.String(length=20), nullable=False),
        sa.Column("plan_id", sa.String(length=32), nullable=True),
        sa.Column("born_plan", sa.String(length=32), nullable=True),
        sa.Column("born_bar", sa.BigInteger(), nullable=True),
        sa.Column("born_at", sa.BigInteger(), nullable=False),
        sa.Column("seen_at", sa.BigInteger(), nullable=False),
        sa.Column("version", sa.BigInteger(), nullable=False),
        sa.ForeignKeyConstraint(
            ["born_plan"],
            ["plans.id"],
        ),
        sa.ForeignKeyConstraint(
            ["plan_id"],
            ["plans.id"],
        ),
        sa.PrimaryKeyConstraint("tag"),
    )
    with op.batch_alter_table("offcuts", schema=None) as batch_op:
        batch_op.create_index("offcuts_by_material", ["state", "family", "finish", "part"], unique=False)
        batch_op.create_index("offcuts_by_plan", ["plan_id"], unique=False)

    op.create_table(
        "plan_bars",
        sa.Column("plan_id", sa.String(length=32), nullable=False),
        sa.Column("number", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("state", sa.String(length=20), nullable=False),
        sa.Column("source", sa.Text(), nullable=False),
        sa.Column("record", sa.JSON(), nullable=False),
        sa.Column("open_pieces", sa.JSON(), nullable=False),
        sa.Column("report", sa.JSON(), nullable=True),
        sa.Column("reported_at", sa.BigInteger(), nullable=True),
        sa.Column("reported_by", sa.Text(), nullable=True),
        sa.Column("born", sa.String(length=64), nullable=True),
        sa.ForeignKeyConstraint(
            ["plan_id"],
            ["plans.id"],
        ),
        sa.PrimaryKeyConstraint("plan_id", "number"),
    )


def downgrade() -> None:
    """Take it back."""
    op.drop_table("plan_bars")
    with op.batch_alter_table("offcuts", schema=None) as batch_op:
        batch_op.drop_index("offcuts_by_plan")
        batch_op.drop_index("offcuts_by_material")

    op.drop_table("offcuts")
    with op.batch_alter_table("job_plans", schema=None) as batch_op:
        batch_op.drop_index("job_plans_by_plan")

    op.drop_table("job_plans")
    op.drop_table("job_lines")
    with op.batch_alter_table("holds", schema=None) as batch_op:
        batch_op.drop_index("holds_by_plan")

    op.drop_table("holds")
    op.drop_table("documents")
    op.drop_table("workers")
    op.drop_table("shelves")
    op.drop_table("replies")
    with op.batch_alter_table("plans", schema=None) as batch_op:
        batch_op.drop_index("plans_to_do")
        batch_op.drop_index("plans_by_worker")

    op.drop_table("plans")
    with op.batch_alter_table("ledger", schema=None) as batch_op:
        batch_op.drop_index("ledger_by_thing")
        batch_op.drop_index("ledger_by_plan")

    op.drop_table("ledger")
    op.drop_table("keys")
    op.drop_table("jobs")
    op.drop_table("families")
