"""The auditor finds every piece that was dropped, altered or added, also in both lists at once."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from nesting.domain.plan import Unplaced
from nesting.units import mm
from nesting.verify.demand import rows_of
from tests.verify.change import change, found
from tests.verify.small_plan import plan

PLAN = plan()


@pytest.mark.parametrize(
    ("path", "changes", "code", "where"),
    [
        ("request.runs.7", {"id": "HH"}, "piece-unasked", "piece H"),
        ("request.runs.7", {"id": "F", "job": "J1"}, "run-twice", "run F"),
        ("pieces.3", {"job": "J1"}, "piece-unasked", "piece B"),
    ],
)
def test_one_change_is_named(path: str, changes: dict[str, Any], code: str, where: str) -> None:
    """Pieces and runs answer to each other by job and name, each exactly once."""
    assert (code, where) in found(change(PLAN, path, **changes))


def test_a_run_that_is_left_out_openly_needs_no_pieces() -> None:
    """G is of a family that nobody describes; the plan says so, and that is all it can do."""
    assert ("unknown-family", "run G") not in found(PLAN)
    silent = replace(PLAN, unplaced=PLAN.unplaced[1:])
    assert ("unknown-family", "run G") in found(silent)


def test_a_run_left_out_that_nobody_asked_for_is_named() -> None:
    """An excuse for a run that does not exist hides which one was meant."""
    excuse = Unplaced(job="J1", run="Y", piece="", length=mm(1), reason="too long", code="too-long")
    assert ("unknown-run", "run Y") in found(replace(PLAN, unplaced=(*PLAN.unplaced, excuse)))


def test_everything_asked_for_is_runs_and_piece_lines() -> None:
    """Nothing on the list is left unchecked because of the table it stands in."""
    assert [row.id for row in rows_of(PLAN.request)] == ["A", "B", "C", "D", "E", "F", "G", "H", "P"]


def test_a_piece_dropped_from_both_lists_is_missed() -> None:
    """A take-off that forgets a fixture and a cut list that forgets it too still fail together."""
    smaller = change(PLAN, "groups.3.bars.1", cuts=PLAN.groups[3].bars[1].cuts[:1])
    smaller = replace(smaller, pieces=tuple(p for p in smaller.pieces if p.id != "A.3"))
    assert ("piece-missing", "run A") in found(smaller)


def test_a_piece_altered_in_both_lists_is_found() -> None:
    """Two equal lies do not make a truth: the run decides."""
    both = change(PLAN, "pieces.3", length=mm(1802), exact=mm(1802), cover_length=mm(1786))
    both = change(both, "groups.3.bars.1.cuts.0", length=mm(1802), face=mm(1802))
    both = change(both, "groups.3.bars.1.cuts.1", face=mm(2397))
    both = change(both, "groups.3.bars.1", tail=mm(92))
    assert ("piece-length", "piece B") in found(both)
    assert not any(where == "bar 2" for _, where in found(both))
