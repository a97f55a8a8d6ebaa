"""Units open at once, and the order of bars that keeps them few."""

from itertools import permutations

from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.planning.open_units import completion, most_open, order_for_open_units

BARS = [{"101", "305"}, {"102"}, {"305"}, {"101", "102"}]

UNITS = st.sets(st.sampled_from("abcdef"), min_size=1, max_size=3)


def test_completion_names_the_last_bar_of_each_unit() -> None:
    """The line "305 complete after bar 3" rests on this, bars counted from 1."""
    assert completion(BARS) == {"305": 3, "101": 4, "102": 4}
    assert list(completion(BARS)) == ["305", "101", "102"]


def test_most_open_counts_first_and_last_bar() -> None:
    """A unit is open while its first and its last bar are cut: 101, 305 and 102 at bar 2."""
    assert most_open(BARS) == 3
    assert most_open([]) == 0
    assert most_open([{"101"}, {"102"}]) == 1


def test_a_chain_of_units_needs_two_open() -> None:
    """Units 1-2, 2-3, 3-4, 4-5 share bars pairwise: two open, whatever order they come in."""
    bars = [{"3", "4"}, {"1", "2"}, {"4", "5"}, {"2", "3"}]
    found = order_for_open_units(bars)
    assert (found.value, found.lower_bound, found.proved) == (2, 2, True)
    assert most_open([bars[i] for i in found.order]) == 2


@settings(max_examples=150, deadline=None)
@given(st.lists(UNITS, min_size=1, max_size=6))
def test_the_search_is_exact(bars: list[set[str]]) -> None:
    """Every order of up to six bars is tried beside it."""
    least = min(most_open(order) for order in permutations(bars))
    found = order_for_open_units(bars)
    assert sorted(found.order) == list(range(len(bars)))
    assert most_open([bars[i] for i in found.order]) == found.value == least
    assert found.lower_bound == least


@settings(max_examples=50, deadline=None)
@given(st.lists(UNITS, min_size=1, max_size=7))
def test_without_steps_the_answer_is_still_true(bars: list[set[str]]) -> None:
    """A search cut short may miss the best order, but neither its bound nor its value may lie."""
    short = order_for_open_units(bars, max_nodes=0)
    least = order_for_open_units(bars).value
    assert short.lower_bound <= least <= short.value <= most_open(bars)
    assert most_open([bars[i] for i in short.order]) == short.value


@settings(max_examples=150, deadline=None)
@given(bars=st.lists(UNITS, min_size=1, max_size=6), begun=st.sets(st.sampled_from("abcdefg"), max_size=4))
def test_the_search_is_exact_when_units_are_open_already(bars: list[set[str]], begun: set[str]) -> None:
    """Every order is tried behind a first bar that is cut; what no bar holds any more does not count."""
    ahead = begun & {unit for bar in bars for unit in bar}
    least = min(most_open([ahead, *order]) for order in permutations(bars))
    found = order_for_open_units(bars, begun=begun)
    assert sorted(found.order) == list(range(len(bars)))
    assert most_open([ahead, *(bars[i] for i in found.order)]) == found.value == found.lower_bound == least


def test_what_is_open_is_closed_first() -> None:
    """Unit 305 is begun: its bar comes first, though the orders of these bars are equal without it."""
    assert order_for_open_units([{"101"}, {"305"}]).order == (0, 1)
    assert order_for_open_units([{"101"}, {"305"}], begun={"305"}).order == (1, 0)


def test_bars_of_no_unit_are_kept() -> None:
    """Spares belong to nobody and must still be cut."""
    found = order_for_open_units([set(), {"a"}, set()])
    assert (sorted(found.order), found.value) == ([0, 1, 2], 1)
