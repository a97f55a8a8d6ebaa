"""Keep why a plan was withdrawn or planned again, and who did it."""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the change."""
    op.add_column("plans", sa.Column("reason", sa.Text(), nullable=False, server_default=""))
    op.add_column("plans", sa.Column("closed_by", sa.Text(), nullable=True))


def downgrade() -> None:
    """Take it back."""
    op.drop_column("plans", "closed_by")
    op.drop_column("plans", "reason")
