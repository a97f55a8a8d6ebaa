"""Running a measurement in a process of its own."""

import os
import subprocess
import sys
import time
from pathlib import Path

import pytest

from benchmarks.apart import run_apart

ROOT = Path(__file__).resolve().parents[2]


def _double(*, number: int) -> int:
    return 2 * number


def _refuse(*, number: int) -> int:
    raise ValueError(f"{number} is refused")


def _die(*, number: int) -> int:
    os._exit(number)


def _sleep(*, number: int) -> int:
    time.sleep(number)
    return number


def test_the_answer_comes_back_with_its_memory() -> None:
    """Memory of a fresh process is the case's alone."""
    outcome = run_apart(_double, patience=60, number=21)
    assert (outcome.value, outcome.failure) == (42, "")
    assert outcome.peak_mib > 0


def test_an_error_is_an_outcome() -> None:
    """A method that fails on one case must not end the comparison."""
    assert run_apart(_refuse, patience=60, number=7).failure == "ValueError: 7 is refused"


def test_a_death_is_an_outcome() -> None:
    """Engines written in C can take their process with them."""
    assert run_apart(_die, patience=60, number=3).failure == "the process died with exit code 3"


def test_an_overrun_is_ended() -> None:
    """A method that ignores its limit is stopped and counted as having no answer."""
    assert "no answer within" in run_apart(_sleep, patience=1.0, number=60).failure


_STARTER = """
import sys
from benchmarks.apart import run_apart
from tests.benchmarks.test_apart import tell_and_sleep
run_apart(tell_and_sleep, patience=120, path=sys.argv[1])
"""


def tell_and_sleep(*, path: str) -> None:
    """Write the process's number and sleep longer than any test."""
    Path(path).write_text(str(os.getpid()), "ascii")
    time.sleep(600)


def test_the_fresh_process_ends_with_its_starter(tmp_path: Path) -> None:
    """A benchmark that is killed must not leave an engine running for hours."""
    told = tmp_path / "number"
    starter = subprocess.Popen([sys.executable, "-c", _STARTER, str(told)], cwd=ROOT)
    while not (told.exists() and told.read_text("ascii")):
        assert starter.poll() is None
        time.sleep(0.05)
    starter.kill()
    starter.wait()
    child = int(told.read_text("ascii"))
    for _ in range(200):
        try:
            os.kill(child, 0)
        except ProcessLookupError:
            return
        time.sleep(0.05)
    pytest.fail(f"process {child} outlived its starter")
