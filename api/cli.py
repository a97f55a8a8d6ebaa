"""The service's commands: ``serve``, ``worker``, ``db`` and ``key``, beside those of ``nesting``."""

from __future__ import annotations

import logging
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

if TYPE_CHECKING:
    from api.settings import Settings
    from api.store.engine import Store

app = typer.Typer(no_args_is_help=True, add_completion=False)
database_commands = typer.Typer(no_args_is_help=True, help="Look after the service's database.")
key_commands = typer.Typer(no_args_is_help=True, help="Make, list and revoke API keys.")
app.add_typer(database_commands, name="db")
app.add_typer(key_commands, name="key")

REFUSED = 2

Database = Annotated[
    str | None,
    typer.Option(help="postgresql+psycopg://user@host/name or sqlite:///file; else $NESTING_DATABASE."),
]
Data = Annotated[
    Path | None, typer.Option(help="Folder of the SQLite file; else $NESTING_DATA or ./nesting-data.")
]


@app.command(short_help="Run the HTTP service, with a worker.")
def serve(
    database: Database = None,
    data: Data = None,
    host: Annotated[str | None, typer.Option(help="Address; any but loopback needs API keys.")] = None,
    port: Annotated[int | None, typer.Option(min=0, max=65535)] = None,
    solvers: Annotated[
        int | None,
        typer.Option(min=0, max=64, help="Solver processes here; 0 leaves it to `nesting worker`."),
    ] = None,
) -> None:
    """Run the HTTP service: plans, stock and offcuts; a worker comes with it."""
    import uvicorn

    from api.app import create_app

    settings = _settings(database=database, data=data, host=host, port=port, solvers=solvers)
    if settings.keys_required and not _has_keys(settings):
        typer.echo(
            f"Not started: {settings.host} can be reached from other machines and there is no API key yet. "
            "Make one: nesting key make LABEL --scope admin",
            err=True,
        )
        raise typer.Exit(REFUSED)
    _log()
    uvicorn.run(
        create_app(settings),
        host=settings.host,
        port=settings.port,
        log_level="warning",
        access_log=False,
        server_header=False,
        timeout_keep_alive=30,
        timeout_graceful_shutdown=10,
        h11_max_incomplete_event_size=65_536,
    )


@app.command(short_help="Plan what waits in the database.")
def worker(
    database: Database = None,
    data: Data = None,
    solvers: Annotated[
        int | None, typer.Option(min=1, max=64, help="Solver processes, one plan each.")
    ] = None,
) -> None:
    """Plan what waits in the database; run it on as many machines as wanted."""
    from api.worker.process import run_worker

    _log()
    run_worker(_settings(database=database, data=data, solvers=solvers))


@database_commands.command("upgrade")
def upgrade_database(database: Database = None, data: Data = None) -> None:
    """Bring the database to the shape this version needs; starting the service does so too."""
    store = _store(_settings(database=database, data=data))
    store.close()
    typer.echo("The database is up to date.")


@database_commands.command("backup")
def backup_database(
    target: Annotated[Path, typer.Argument(help="File to write; it must not exist yet.")],
    database: Database = None,
    data: Data = None,
) -> None:
    """Copy a SQLite database while the service runs; for PostgreSQL use pg_dump."""
    from api.store.backup import NotPossible, back_up

    try:
        back_up(_settings(database=database, data=data).url, target)
    except NotPossible as why:
        typer.echo(str(why), err=True)
        raise typer.Exit(REFUSED) from None
    typer.echo(f"Wrote {target}")


@key_commands.command("make")
def make(
    label: Annotated[str, typer.Argument(help="Whose key it is; shown where plans and movements say who.")],
    scope: Annotated[list[str], typer.Option(help="read, plan, shop or admin; may be given again.")],
    database: Database = None,
    data: Data = None,
) -> None:
    """Make a key and show it, this once."""
    from api.access.keys import Scope, make_key

    known = {one.value: one for one in Scope}
    strange = [word for word in scope if word not in known]
    if strange:
        typer.echo(f"No such scope: {', '.join(strange)}. There are {', '.join(known)}.", err=True)
        raise typer.Exit(REFUSED)
    store = _store(_settings(database=database, data=data))
    with store.write() as session:
        key = make_key(session, label, {known[word] for word in scope}, store.now(session))
    store.close()
    typer.echo(key.text)


@key_commands.command("list")
def list_all(database: Database = None, data: Data = None) -> None:
    """List the keys: id, scopes, label, when made, when revoked. Never the keys themselves."""
    from api.access.keys import list_keys
    from api.web.lengths import moment

    store = _store(_settings(database=database, data=data))
    with store.read() as session:
        for row in list_keys(session):
            ended = f"revoked {moment(row.revoked_at)}" if row.revoked_at else "in force"
            typer.echo(f"{row.id}  {row.scopes:<22}  {row.label}  made {moment(row.made_at)}  {ended}")
    store.close()


@key_commands.command("revoke")
def revoke(
    identity: Annotated[str, typer.Argument(metavar="ID")], database: Database = None, data: Data = None
) -> None:
    """Make a key worthless from now on."""
    from api.access.keys import revoke_key

    store = _store(_settings(database=database, data=data))
    with store.write() as session:
        done = revoke_key(session, identity, store.now(session))
    store.close()
    if not done:
        typer.echo(f"There is no key {identity!r} in force.", err=True)
        raise typer.Exit(REFUSED)
    typer.echo(f"Key {identity} is revoked.")


def _settings(**given: Any) -> Settings:
    from api.settings import Settings

    return Settings(**{name: value for name, value in given.items() if value is not None})


def _store(settings: Settings) -> Store:
    from api.store.engine import Store
    from api.store.migrate import upgrade

    store = Store(settings.url)
    upgrade(store)
    return store


def _has_keys(settings: Settings) -> bool:
    from api.access.keys import any_key

    store = _store(settings)
    with store.read() as session:
        found = any_key(session)
    store.close()
    return found


def _log() -> None:
    logging.basicConfig(level=logging.INFO, format="%(asctime)s %(name)s %(levelname)s %(message)s")
    logging.getLogger("alembic").setLevel(logging.WARNING)
