"""The ledger refuses to be changed."""

from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the change."""
    if op.get_bind().dialect.name == "sqlite":
        for act in ("UPDATE", "DELETE"):
            op.execute(
                f"CREATE TRIGGER ledger_no_{act.lower()} BEFORE {act} ON ledger "
                "BEGIN SELECT RAISE(ABORT, 'the ledger is append-only'); END"
            )
        return
    op.execute(
        "CREATE FUNCTION ledger_refuses() RETURNS trigger LANGUAGE plpgsql AS "
        "$$ BEGIN RAISE EXCEPTION 'the ledger is append-only'; END $$"
    )
    op.execute(
        "CREATE TRIGGER ledger_refuses BEFORE UPDATE OR DELETE OR TRUNCATE ON ledger "
        "FOR EACH STATEMENT EXECUTE FUNCTION ledger_refuses()"
    )


def downgrade() -> None:
    """Take it back."""
    if op.get_bind().dialect.name == "sqlite":
        op.execute("DROP TRIGGER ledger_no_update")
        op.execute("DROP TRIGGER ledger_no_delete")
        return
    op.execute("DROP TRIGGER ledger_refuses ON ledger")
    op.execute("DROP FUNCTION ledger_refuses()")
