"""Commands that other installed packages add: the service's, where it is installed."""

from __future__ import annotations

from importlib.metadata import entry_points

import typer

GROUP = "nesting.commands"


def add_installed(app: typer.Typer) -> None:
    """
    Put the commands that are registered under the entry point ``nesting.commands`` beside our own.

    Each entry names a Typer application. Whatever such a command needs beyond Typer it imports when
    it runs, so that ``--help`` answers at once.
    """
    for entry in entry_points(group=GROUP):
        app.add_typer(entry.load())
