"""
A quick sample of every published class, under a limit of rounds that is the same on every machine.

Needs the folder of instance files, which is no part of the project: environment variable
``NESTING_INSTANCES``, or ``../shared/instances`` beside the checkout.
"""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from benchmarks.case import Case, evenly
from benchmarks.registry import case_classes
from nesting.stop import MaxRounds
from tests.published.solved import solved

ROOT = Path(__file__).resolve().parents[2]
FOLDER = Path(os.environ.get("NESTING_INSTANCES") or ROOT.parent / "shared" / "instances")
ROUNDS = 400

pytestmark = pytest.mark.skipif(
    not FOLDER.is_dir(), reason=f"no instance files in {FOLDER}; set NESTING_INSTANCES to their folder"
)

# Classes that are closed within the limit, with the size of the sample.
EASY = {
    "falkenauer_u": 4,
    "scholl_1": 12,
    "scholl_2": 6,
    "schwerin_1": 3,
    "schwerin_2": 3,
    "dim_random": 6,
    "textbook": 18,
}
# Classes for which a few rounds are not meant to be enough: bound and plan still have to be true.
HARD = (
    "falkenauer_t",
    "hard28",
    "waescher",
    "small_nonirup",
    "vscsp_belov",
    "vscsp_crainic",
    "vscsp_hemmelmayr",
)


def _sample(name: str, number: int) -> tuple[Case, ...]:
    if not (FOLDER / f"{name}.jsonl.gz").exists():
        pytest.skip(f"no {name}.jsonl.gz in {FOLDER}")
    return evenly(case_classes()[name].load(FOLDER), number)


@pytest.mark.parametrize("name", EASY)
def test_easy_classes_are_proved_at_the_best_known_value(name: str) -> None:
    """A solver that slips on these has lost something it could do."""
    for case in _sample(name, EASY[name]):
        result = solved(case.problem, stop=MaxRounds(ROUNDS))
        if case.optimal:
            assert (case.name, result.cost, result.proved) == (case.name, case.best_known, True)


@pytest.mark.parametrize("name", HARD)
def test_hard_classes_never_claim_too_much(name: str) -> None:
    """No bound may pass a value that somebody has reached, whatever the limit."""
    for case in _sample(name, 2):
        result = solved(case.problem, stop=MaxRounds(ROUNDS // 20))
        if case.best_known is not None:
            assert (case.name, result.bound <= case.best_known) == (case.name, True)
        if case.optimal:
            assert case.best_known is not None
            assert result.cost >= case.best_known
