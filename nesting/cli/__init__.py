"""The command line: arguments to library calls to exit code."""

from __future__ import annotations

import os
import sys
import traceback

DEBUG = "NESTING_DEBUG"


def main() -> None:
    """
    Run the ``nesting`` command.

    What nobody foresaw ends with exit code 3 and one line; with ``NESTING_DEBUG`` set, the traceback too.
    """
    from nesting.cli.app import app
    from nesting.cli.installed import add_installed
    from nesting.cli.shell import FAULT

    add_installed(app)
    try:
        app()
    except Exception as why:
        if os.environ.get(DEBUG):
            traceback.print_exc()
        what = f"{type(why).__name__}: {why}" if str(why) else type(why).__name__
        sys.stderr.write(f"nesting: unexpected fault, no result: {what}\n{DEBUG}=1 shows where.\n")
        sys.exit(FAULT)
