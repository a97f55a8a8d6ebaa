"""The command as a process of its own: what it imports, what it prints when piped, Ctrl-C."""

from __future__ import annotations

import contextlib
import os
import random
import signal
import subprocess
import sys
import threading
from pathlib import Path

import pytest

HEAVY = ("ortools", "numba", "numpy", "pandas", "openpyxl", "xlsxwriter", "pydantic")


def test_help_imports_nothing_heavy() -> None:
    """``--help`` must answer at once, so no engine and no file format may load for it."""
    code = (
        "import sys\nfrom typer.testing import CliRunner\nfrom nesting.cli.app import app\n"
        "assert CliRunner().invoke(app, ['--help']).exit_code == 0\n"
        f"print([name for name in {HEAVY!r} if name in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def hard_list(path: Path) -> None:
    """Write a list that keeps the solver busy for a minute on bars of several lengths."""
    draw = random.Random(7)
    lines = [f"P{i},{draw.randint(30_000, 180_000) / 100} mm,{draw.randint(1, 3)}" for i in range(900)]
    path.write_text("id,length,quantity\n" + "\n".join(lines) + "\n", encoding="utf-8")


@pytest.mark.skipif(not hasattr(os, "openpty"), reason="needs a pseudo-terminal")
def test_ctrl_c_keeps_the_best_plan(tmp_path: Path) -> None:
    """One SIGINT ends the search, not the command: a complete, audited plan is written."""
    source, document = tmp_path / "pieces.csv", tmp_path / "plan.json"
    hard_list(source)
    command = [sys.executable, "-m", "nesting", "plan", str(source), "--kerf", "3 mm"]
    for bar in ("6000 mm=20.00", "4500 mm=15.70", "3000 mm=10.90"):
        command += ["--bar", bar]
    ours, theirs = os.openpty()
    process = subprocess.Popen(
        [*command, "--json", str(document)], stdout=subprocess.PIPE, stderr=theirs, text=True
    )
    os.close(theirs)
    shown = b""
    # The progress line is the sign that the list is read and the search is on.
    while b"Nesting" not in shown:
        shown += os.read(ours, 4096)
    process.send_signal(signal.SIGINT)
    drain = threading.Thread(target=_read_to_end, args=(ours,))
    drain.start()
    out, _ = process.communicate(timeout=300)
    drain.join()
    os.close(ours)
    assert process.returncode == 0
    assert "Order" in out
    audit = [sys.executable, "-m", "nesting", "audit", str(document)]
    assert subprocess.run(audit, capture_output=True, check=False).returncode == 0


def _read_to_end(terminal: int) -> None:
    """Keep the terminal empty, so that the command never waits to print; it ends with an I/O error."""
    with contextlib.suppress(OSError):
        while os.read(terminal, 4096):
            pass


def test_piped_progress_is_silent(tmp_path: Path) -> None:
    """Nothing is written to stderr when it is no terminal."""
    source = tmp_path / "pieces.csv"
    source.write_text("id,length,quantity\nA,1806 mm,4\n", encoding="utf-8")
    options = "--bar 6000mm --kerf 3mm --head-trim 8mm --tail-loss 8mm --keep-length 400mm"
    command = [sys.executable, "-m", "nesting", "plan", str(source), *options.split()]
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    assert done.stderr == ""
