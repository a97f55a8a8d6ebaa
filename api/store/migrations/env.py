"""Runs migrations on the connection that ``api.store.migrate`` hands over."""

from alembic import context

from api.store.models import Base

connection = context.config.attributes["connection"]
context.configure(
    connection=connection,
    target_metadata=Base.metadata,
    render_as_batch=connection.dialect.name == "sqlite",
    transactional_ddl=True,
)
with context.begin_transaction():
    context.run_migrations()
