"""Side by side."""

from pathlib import Path

import pytest

from benchmarks.case import Case
from benchmarks.peers.answer import Answer
from benchmarks.peers.compare import OURS, PEERS, PeerRow, chosen, compare, judged, markdown, run_peers, timed
from benchmarks.peers.greedy import best_fit, first_fit
from benchmarks.read import problem
from nesting.domain.packing import Packing, PatternUse
from nesting.domain.problem import Problem

CASE = Case(name="two bars", problem=problem("two", [6, 5, 4], [1, 2, 1], [(10, None, 1)]))


def _gives_up(problem: Problem, *, time_limit: float) -> Answer:
    raise MemoryError("model too large")


def test_every_method_gets_a_row_on_every_group() -> None:
    """A method that fails is a row with its reason, not a hole."""
    rows = compare([CASE], time_limit=5, peers={"first fit": first_fit, "gives up": _gives_up})
    assert [(row.method, row.cost, row.proved) for row in rows] == [
        ("first fit", 2, True),
        ("gives up", None, False),
    ]
    assert rows[1].ended == "MemoryError: model too large"


def test_a_plan_that_cannot_be_sawn_has_no_cost() -> None:
    """5 + 5 + 6 on a bar of 10 would look like the best method of all."""
    overfull = Packing((PatternUse(0, ((0, 1), (1, 2), (2, 1)), 1),), (0, 0, 0))
    row = judged(CASE, "cheat", Answer(packing=overfull, bound=1), 0.1, 10, time_limit=5)
    assert (row.cost, row.proved) == (None, False)
    assert "past the end" in row.ended
    left = Packing((PatternUse(0, ((0, 1), (2, 1)), 1),), (0, 2, 0))
    assert (
        "2 pieces short" in judged(CASE, "lazy", Answer(packing=left, bound=1), 0.1, 10, time_limit=5).ended
    )


def _row(method: str, cost: int | None) -> PeerRow:
    return PeerRow(
        group="g",
        method=method,
        cost=cost,
        bars=cost,
        bound=8,
        seconds=1.0,
        peak_mib=5,
        ended="done",
        time_limit=5.0,
        revision="r",
        processor="p",
        load=0.5,
    )


def test_ratios_are_to_our_own_cost() -> None:
    """9 bars against our 8 is 1.125; no plan has no ratio."""
    text = markdown([_row("rule", 9), _row("none", None), _row(OURS, 8)])
    assert "| g | rule | 9 | 9 | 8 | no | 1.00 | 5 | 1.1250 | done |" in text
    assert "| g | none | - | - | 8 | no | 1.00 | 5 | - | done |" in text
    assert f"| g | {OURS} | 8 | 8 | 8 | yes | 1.00 | 5 | 1.0000 | done |" in text


@pytest.mark.parametrize("method", PEERS)
def test_every_method_finds_the_two_bars(method: str) -> None:
    """All six on one tiny group, our solver among them, through the harness's check."""
    answer, seconds = timed(peer=PEERS[method], problem=CASE.problem, time_limit=10)
    row = judged(CASE, method, answer, seconds, 0, time_limit=10)
    assert (row.cost, row.bound, row.proved) == (2, 2, True)


def test_the_comparison_is_left_as_a_page(tmp_path: Path) -> None:
    """The table of the folder is what the rows say."""
    rows = run_peers((CASE,), time_limit=5, out=tmp_path, peers={"first-fit decreasing": first_fit})
    assert markdown(rows) in (tmp_path / "peers.md").read_text("utf-8")


def test_one_method_can_be_measured_anew(tmp_path: Path) -> None:
    """The slow peers need not run again for a new revision of ours; the table keeps their rows."""
    run_peers((CASE,), time_limit=5, out=tmp_path, peers={"first-fit decreasing": first_fit})
    rows = run_peers((CASE,), time_limit=7, out=tmp_path, peers={"best-fit decreasing": best_fit})
    assert [(row.method, row.time_limit) for row in rows] == [
        ("first-fit decreasing", 5.0),
        ("best-fit decreasing", 7.0),
    ]


def test_methods_are_chosen_by_name() -> None:
    """A misspelt method is refused with the known ones."""
    assert list(chosen("first-fit decreasing")) == ["first-fit decreasing"]
    assert chosen("all") is PEERS
    with pytest.raises(ValueError, match="No such method: magic"):
        chosen("magic")
