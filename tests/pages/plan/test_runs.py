"""Runs with their pieces."""

from dataclasses import replace

import pytest

from api.pages.plan import runs as module
from api.pages.plan.choice import Choice
from api.pages.plan.runs import runs_page
from nesting.reports.lengths import METRIC
from tests.reports.plans import example_plan

PLAN = example_plan()


def test_a_run_shows_its_pieces_and_when_it_is_complete() -> None:
    """Three sections on bars 1, 2 and 3; pointed at, it is open."""
    page = runs_page(PLAN, Choice(job="OY", run="OY-304-7"), METRIC)
    (row,) = page.rows
    assert [(one.id, one.bar, one.order) for one in row.pieces] == [
        ("OY-304-7/1", 1, 1),
        ("OY-304-7/2", 2, 1),
        ("OY-304-7/3", 3, 1),
    ]
    assert (row.after, row.opened, row.where) == (3, True, "OY-304 / hall")


def test_a_run_is_complete_after_the_last_bar_in_turn_not_in_number() -> None:
    """After a report bar 3 may be cut before bar 1: fitters sent after bar 3 would lack a section."""
    groups = tuple(
        replace(group, bars=tuple(reversed(group.bars)))
        if any(bar.number == 1 for bar in group.bars)
        else group
        for group in PLAN.groups
    )
    (row,) = runs_page(replace(PLAN, groups=groups), Choice(run="OY-304-7"), METRIC).rows
    assert row.after == 1


def test_covers_cut_apart_belong_to_their_run() -> None:
    """SARN's covers are pieces of their own: run OY-306-1 is complete with its cover, after bar 7."""
    (row,) = runs_page(PLAN, Choice(run="OY-306-1"), METRIC).rows
    assert [(one.id, one.part) for one in row.pieces] == [("OY-306-1", "channel"), ("OY-306-1c", "cover")]
    assert row.after == 7


@pytest.mark.parametrize(
    ("choice", "count"),
    [(Choice(), 29), (Choice(job="RUSH"), 3), (Choice(floor="4"), 8), (Choice(unit="x"), 0)],
)
def test_filters_count(choice: Choice, count: int) -> None:
    """Job, floor and unit leave the runs they name."""
    assert runs_page(PLAN, choice, METRIC).count == count


def test_a_run_left_out_is_not_complete() -> None:
    """It is listed with the reason instead of a bar."""
    run = replace(PLAN.request.runs[0], job="RUSH", id="R-7")
    plan = replace(PLAN, request=replace(PLAN.request, runs=(run,)))
    (row,) = runs_page(plan, Choice(), METRIC).rows
    assert row.after == 0
    assert [(one.id, one.bar) for one in row.pieces] == [("R-7", 0)]
    assert row.pieces[0].reason.startswith("Longer than any bar")


def test_runs_come_in_pages(monkeypatch: pytest.MonkeyPatch) -> None:
    """A building of hundreds of runs is not one page; the last page is the last."""
    monkeypatch.setattr(module, "RUNS_A_PAGE", 10)
    assert [runs_page(PLAN, Choice(page=page), METRIC).page for page in (1, 3, 99)] == [1, 3, 3]
    assert len(runs_page(PLAN, Choice(page=3), METRIC).rows) == 9
