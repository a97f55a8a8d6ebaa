"""Keep lists on their way to a plan."""

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the change."""
    op.create_table(
        "drafts",
        sa.Column("id", sa.String(32), primary_key=True),
        sa.Column("name", sa.String(200), nullable=False),
        sa.Column("body", sa.LargeBinary(), nullable=False),
        sa.Column("size", sa.BigInteger(), nullable=False),
        sa.Column("corrections", sa.JSON(), nullable=False),
        sa.Column("choices", sa.JSON(), nullable=False),
        sa.Column("made_at", sa.BigInteger(), nullable=False),
        sa.Column("made_by", sa.Text(), nullable=False),
        sa.Column("changed_at", sa.BigInteger(), nullable=False),
        sa.Column("version", sa.BigInteger(), nullable=False),
        sa.Column("plan_id", sa.String(32), nullable=True),
        sa.Column("planned_version", sa.BigInteger(), nullable=True),
    )
    op.create_index("drafts_by_change", "drafts", ["changed_at"])


def downgrade() -> None:
    """Take it back."""
    op.drop_index("drafts_by_change", "drafts")
    op.drop_table("drafts")
