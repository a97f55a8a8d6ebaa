"""The command line: arguments to library calls to exit code."""

from __future__ import annotations


def main() -> None:
    """Run the ``nesting`` command."""
    from nesting.cli.app import app
    from nesting.cli.installed import add_installed

    add_installed(app)
    app()
