"""Processes of our own: they answer, may be cut off, and do not outlive whoever started them."""

import os
import signal
import subprocess
import sys
import threading
from pathlib import Path

import pytest

from api.catalogue.contents import Contents
from api.processes.child import Child, ChildDied, TookTooLong, python_path
from api.processes.clerk import Clerks
from api.processes.clerk_work import ReadCatalogue, Refused
from api.web.problems import Problem
from benchmarks.service.server import wait_until

CLERK = "api.processes.clerk_work"
RACK = ReadCatalogue("rack.csv", b"Offcut tag,Family,Finish,Length\nFL-1,TOLV-17N,natural,1300 mm\n")


def test_a_child_does_its_work_and_ends() -> None:
    """Asked twice, it answers twice; ended, it answers no more."""
    child = Child(CLERK)
    for _ in range(2):
        answer = child.ask(RACK, 60)
        assert isinstance(answer, Contents)
        assert [offcut.tag for offcut in answer.offcuts] == ["FL-1"]
    assert isinstance(child.ask(ReadCatalogue("x.xlsx", b"no workbook"), 60), Refused)
    child.end()
    assert not child.alive
    with pytest.raises(ChildDied):
        child.ask(RACK, 1)


def test_what_takes_too_long_is_cut_off() -> None:
    """The process is gone, not only the patience."""
    child = Child(CLERK)
    with pytest.raises(TookTooLong):
        child.ask(RACK, 0)
    assert not child.alive


def test_a_busy_machine_refuses_nobodys_work() -> None:
    """Waiting for the processor is no fault of a file: only time at work counts up to the limit."""
    child = Child(CLERK)
    child.ask(RACK, 60)
    os.kill(child.pid, signal.SIGSTOP)
    threading.Timer(2.5, os.kill, (child.pid, signal.SIGCONT)).start()
    answer = child.ask(RACK, 2)
    child.end()
    assert isinstance(answer, Contents)


def test_a_child_does_not_outlive_its_parent() -> None:
    """Also when the parent had no time to say goodbye."""
    code = (
        "import os; from api.processes.child import Child; "
        f"print(Child({CLERK!r}).pid, flush=True); os.kill(os.getpid(), 9)"
    )
    environment = {**os.environ, "PYTHONPATH": python_path()}
    told = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, env=environment, check=False
    )
    orphan = Path(f"/proc/{int(told.stdout)}")
    wait_until(
        lambda: not orphan.exists() or "Z" in orphan.joinpath("stat").read_text().split()[2], 60, "alive"
    )


def test_clerks_recover_from_a_file_that_took_too_long() -> None:
    """The one who sent it hears so; the next file is read by a fresh clerk."""
    clerks = Clerks(1, seconds=0.0, megabytes=1_500)
    with pytest.raises(Problem, match="could not be read within"):
        clerks.ask(RACK)
    clerks.close()
    patient = Clerks(1, seconds=60, megabytes=1_500)
    assert isinstance(patient.ask(RACK), Contents)
    patient.close()
