"""The task that times paper."""

from pathlib import Path

from benchmarks.speed.paper import demo_buildings, pages_of, paper
from nesting.domain.runs import Run
from nesting.paper.page_size import PageSize
from nesting.paper.surface import Surface


def test_every_building_is_a_job_with_runs_of_its_own() -> None:
    """Two buildings hold twice one building's runs, no id twice, corners joined inside a building."""
    one, two = demo_buildings(1), demo_buildings(2)
    assert len(two.runs) == 2 * len(one.runs)
    by_id = {run.id: run for run in two.runs}
    assert len(by_id) == len(two.runs)
    assert {run.job for run in two.runs} >= {"Orrelbeck Yard 1", "Orrelbeck Yard 2"}

    def partners(run: Run) -> list[Run]:
        return [by_id[name] for name in (run.partner_left, run.partner_right) if name]

    assert any(partners(run) for run in two.runs)
    assert all(partner.job == run.job for run in two.runs for partner in partners(run))


def test_pages_are_counted_in_the_file_itself(tmp_path: Path) -> None:
    """Not taken on trust from the writer."""
    surface = Surface(tmp_path / "three.pdf", PageSize.A4, "three")
    for _ in range(3):
        surface.next_page()
    surface.save()
    assert pages_of((tmp_path / "three.pdf").read_bytes()) == 3


def test_the_paper_of_a_building_is_timed_and_its_pages_are_told() -> None:
    """One fresh process; the demo building's paper has far more than a hundred pages."""
    timing = paper(buildings=1, repeats=1)
    assert len(timing.seconds) == 1, timing.note
    assert int(timing.note.split()[0]) > 100
    assert "pages a second" in timing.note
