"""The service's commands: keys from the command line, no start without them, a database made on the way."""

import os
import subprocess
import sys
from pathlib import Path

import pytest
import typer
from typer.testing import CliRunner

from api.cli import app
from api.store.engine import Store
from api.store.migrate import is_current
from nesting.cli.installed import add_installed

run = CliRunner()


def words(folder: Path, *command: str) -> list[str]:
    return [*command, "--data", str(folder)]


def test_keys_are_made_listed_and_revoked(tmp_path: Path) -> None:
    """The list never shows a key; a revoked one says so."""
    made = run.invoke(app, words(tmp_path, "key", "make", "purchasing", "--scope", "plan", "--scope", "read"))
    assert made.exit_code == 0, made.output
    text = made.output.strip()
    identity = text.split("_")[1]
    listed = run.invoke(app, words(tmp_path, "key", "list")).output
    assert identity in listed
    assert "plan read" in listed
    assert "purchasing" in listed
    assert text not in listed
    assert run.invoke(app, words(tmp_path, "key", "revoke", identity)).exit_code == 0
    assert run.invoke(app, words(tmp_path, "key", "revoke", identity)).exit_code == 2
    assert "revoked" in run.invoke(app, words(tmp_path, "key", "list")).output


def test_a_scope_that_is_none_is_refused(tmp_path: Path) -> None:
    """With the ones there are."""
    refused = run.invoke(app, words(tmp_path, "key", "make", "x", "--scope", "king"))
    assert refused.exit_code == 2
    assert "admin" in refused.output


def test_no_start_on_an_open_address_without_keys(tmp_path: Path) -> None:
    """A stranger must not get in because somebody was in a hurry."""
    refused = run.invoke(app, words(tmp_path, "serve", "--host", "0.0.0.0", "--port", "0"))
    assert refused.exit_code == 2
    assert "nesting key make" in refused.output


def test_the_database_is_upgraded_and_copied(tmp_path: Path) -> None:
    """``db upgrade`` makes it, ``db backup`` copies it, and neither overwrites."""
    assert run.invoke(app, words(tmp_path, "db", "upgrade")).exit_code == 0
    store = Store(f"sqlite:///{tmp_path / 'nesting.sqlite3'}")
    assert is_current(store)
    store.close()
    copy = str(tmp_path / "copy.sqlite3")
    assert run.invoke(app, words(tmp_path, "db", "backup", copy)).exit_code == 0
    assert run.invoke(app, words(tmp_path, "db", "backup", copy)).exit_code == 2


def test_the_commands_stand_beside_those_of_planning() -> None:
    """Where the service is installed, ``nesting --help`` names its commands, and loads none of its weight."""
    planning = typer.Typer()
    add_installed(planning)
    names = {group.typer_instance for group in planning.registered_groups}
    if app not in names:
        pytest.skip("the project is not installed here, so it has no entry points")
    code = (
        "import sys; from nesting.cli.installed import add_installed; import typer; "
        "add_installed(typer.Typer()); "
        "print([m for m in ('fastapi', 'sqlalchemy', 'uvicorn', 'pydantic') if m in sys.modules])"
    )
    path = os.pathsep.join(filter(None, (str(Path(__file__).parents[2]), os.environ.get("PYTHONPATH", ""))))
    told = subprocess.run(
        [sys.executable, "-c", code],
        capture_output=True,
        text=True,
        check=True,
        env={**os.environ, "PYTHONPATH": path},
    )
    assert told.stdout.strip() == "[]"
