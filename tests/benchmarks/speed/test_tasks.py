"""The timed tasks, on small sizes."""

from benchmarks.speed import tasks


def test_a_warm_group_is_timed_on_another_group_each_repeat() -> None:
    """Two repeats, two groups, both with their outcome."""
    timing = tasks.warm_group(time_limit=20, repeats=2)
    assert len(timing.seconds) == 2
    assert timing.note.count("bars") == 2


def test_an_order_book_is_planned_and_audited() -> None:
    """The time covers take-off to audited plan, and says how much was proved."""
    timing = tasks.book(materials=2, pieces=20, lengths=3, time_limit=20, processes=1)
    assert len(timing.seconds) == 1, timing.note
    assert "2 of 2 groups proved" in timing.note
    assert timing.peak_mib > 0


def test_the_demo_workbook_is_timed_cold() -> None:
    """Workbook in, workbook out, in a process of its own."""
    timing = tasks.workbook(repeats=1)
    assert len(timing.seconds) == 1, timing.note
