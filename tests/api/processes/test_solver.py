"""The solver process: what it makes, and whose search a cancel cuts short."""

from __future__ import annotations

from typing import Any

from api.processes.child import Child
from api.processes.solver import Cancel, Done, Failed, Ready, Work, make
from benchmarks.service.requests import pieces_request
from nesting.exchange import read_plan

LARGE = pieces_request(8_000, 1_600, 101, bars=(6000,))


def ended(child: Child) -> Any:
    """Give what the work came to, all news passed over."""
    while isinstance(message := child.receive(), dict):
        pass
    return message


def test_a_late_cancel_does_not_hit_the_next_plan() -> None:
    """The plan that was meant had just come to its end: the one that follows gets all its time."""
    child = Child("api.processes.solver")
    try:
        assert isinstance(child.receive(), Ready)
        child.send(Work(pieces_request(40, 12, 1), 0, 60, "P1"))
        assert isinstance(ended(child), Done)
        child.send(Cancel("P1"))
        child.send(Work(pieces_request(40, 12, 2), 0, 60, "P2"))
        made = ended(child)
        assert isinstance(made, Done)
        assert made.planned.summary["proved"]
    finally:
        child.end()


def test_a_cancel_that_overtakes_its_work_counts() -> None:
    """Cancelled while it waited: the search is cut short as soon as it begins."""
    child = Child("api.processes.solver")
    try:
        assert isinstance(child.receive(), Ready)
        child.send(Cancel("P1"))
        child.send(Work(LARGE, 0, 3_000, "P1"))
        assert isinstance(ended(child), Done)
    finally:
        child.end()


def test_what_cannot_be_planned_is_told_as_such() -> None:
    """Trying again would not change it, so the plan fails with the reason."""
    child = Child("api.processes.solver")
    try:
        assert isinstance(child.receive(), Ready)
        child.send(Work('{"schema": 1, "runs": 7}', 0, 5, "P1"))
        assert isinstance(ended(child), Failed)
    finally:
        child.end()


def test_a_plan_of_its_own_has_the_services_tags() -> None:
    """Two plans of one request give their offcuts different tags."""
    made = make(Work(pieces_request(3, 2, 5), 0, 20, "P17"))
    tags = {bar.tail_tag for group in read_plan(made.document).groups for bar in group.bars} - {""}
    assert tags
    assert all(tag.startswith("P17-") for tag in tags)
    assert made.summary["revision"] == 0
