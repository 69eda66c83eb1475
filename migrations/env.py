"""Where Alembic begins: one connection, given by `kitting.store.migrate`, in one transaction."""

from alembic import context

from kitting.store.tables import metadata

connection = context.config.attributes.get("connection")
if connection is None:
    raise SystemExit("migrations run from the program: `kitting doctor --upgrade`")

context.configure(
    connection=connection,
    target_metadata=metadata,
    render_as_batch=True,
    include_name=lambda name, kind, _: kind != "table" or name in metadata.tables,
    transactional_ddl=True,
)
with context.begin_transaction():
    context.run_migrations()
