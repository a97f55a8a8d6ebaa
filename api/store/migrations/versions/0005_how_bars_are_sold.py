"""Keep how the bars of a shelf are sold: packs, minimum, breaks, value on hand, supplier, currency."""

import sqlalchemy as sa
from alembic import op

revision = "0005"
down_revision = "0004"
branch_labels = None
depends_on = None

_NAMES = ("pack", "minimum", "breaks", "hand_value", "supply", "supplier", "lead_days", "currency")


def upgrade() -> None:
    """Make the change."""
    op.add_column("shelves", sa.Column("pack", sa.BigInteger(), nullable=False, server_default="1"))
    op.add_column("shelves", sa.Column("minimum", sa.BigInteger(), nullable=False, server_default="0"))
    op.add_column("shelves", sa.Column("breaks", sa.JSON(), nullable=False, server_default="[]"))
    op.add_column("shelves", sa.Column("hand_value", sa.BigInteger(), nullable=True))
    op.add_column("shelves", sa.Column("supply", sa.BigInteger(), nullable=True))
    op.add_column("shelves", sa.Column("supplier", sa.Text(), nullable=False, server_default=""))
    op.add_column("shelves", sa.Column("lead_days", sa.BigInteger(), nullable=True))
    op.add_column("shelves", sa.Column("currency", sa.String(3), nullable=False, server_default=""))


def downgrade() -> None:
    """Take it back."""
    for name in reversed(_NAMES):
        op.drop_column("shelves", name)
