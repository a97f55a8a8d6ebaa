"""The registry of case classes."""

import pytest

from benchmarks.registry import case_classes, named

PUBLISHED = {
    "ai", "ani", "dim_random", "falkenauer_t", "falkenauer_u", "gi", "hard28", "newhard", "scholl_1",
    "scholl_2", "scholl_3", "schwerin_1", "schwerin_2", "small_nonirup", "textbook", "vscsp_belov",
    "vscsp_crainic", "vscsp_hemmelmayr", "vscsp_random", "waescher",
}  # fmt: skip


def test_every_published_class_is_registered() -> None:
    """A class that drops out of the registry would silently drop out of the quality table."""
    assert set(case_classes()) >= PUBLISHED | {"plain", "demo", "shop"}


def test_classes_come_in_the_order_asked_for() -> None:
    """The table's order is the caller's choice."""
    assert [one.name for one in named("hard28,ai")] == ["hard28", "ai"]
    assert len(named("all")) == len(case_classes())


def test_an_unknown_class_is_refused_with_the_known_ones() -> None:
    """A misspelt class must not pass as a run without cases."""
    with pytest.raises(ValueError, match=r"No such class: hard29\. Known: .*hard28"):
        named("hard28,hard29")


@pytest.mark.parametrize("name", sorted(case_classes()))
def test_every_class_builds_its_tiny_case(name: str) -> None:
    """The smoke run of continuous integration stands on these."""
    case = case_classes()[name].tiny()
    assert 1 <= sum(case.problem.counts) <= 80
    assert case_classes()[name].source
    assert case_classes()[name].licence
