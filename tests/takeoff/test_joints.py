"""Runs longer than a bar, in inches and in millimetres."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nesting.domain.goals import Slivers
from nesting.domain.rules import SawRules
from nesting.domain.stock import StockLine
from nesting.takeoff.joints import equal_split, full_split, longest_section, sections_needed
from nesting.units import Length, inches, mm

METRIC_SAW = SawRules(kerf=mm(3), head_trim=mm(8), tail_loss=mm(8), step=mm(1))
INCH_SAW = SawRules(
    kerf=inches("1/8"), head_trim=inches("5/16"), tail_loss=inches("5/16"), step=inches("1/16")
)


def line(length: Length, count: int | None = None) -> StockLine:
    """Give a stock line of a length."""
    return StockLine(family="QUEN-30M", length=length, count=count)


@pytest.mark.parametrize(
    ("saw", "bar", "longest"),
    [
        (METRIC_SAW, mm(2500), mm(2484)),  # 2500 - 8 - 8
        (INCH_SAW, inches("98.425"), inches("97 3/4")),  # 97.8 down to a sixteenth
    ],
)
def test_longest_section_is_the_bar_without_its_trims(saw: SawRules, bar: Length, longest: Length) -> None:
    """The trims at both ends are lost to any piece, and the saw must be able to set the length."""
    assert longest_section([line(bar)], saw) == longest


def test_the_longest_bar_on_offer_counts() -> None:
    """A sold-out bar makes no longer run possible, unless nothing else is listed."""
    assert longest_section([line(mm(2000)), line(mm(2500)), line(mm(3000), 0)], METRIC_SAW) == mm(2484)
    assert longest_section([line(mm(3000), 0)], METRIC_SAW) == mm(2984)


def test_a_bar_shorter_than_its_trims_yields_nothing() -> None:
    """16 mm of bar are all trim, and so is no bar."""
    assert longest_section([line(mm(16))], METRIC_SAW) is None
    assert longest_section([], METRIC_SAW) is None


@pytest.mark.parametrize(
    ("total", "longest", "gap", "sections"),
    [
        (mm(5334), mm(2484), mm(0), 3),
        (inches(210), inches("97 3/4"), inches(0), 3),
        (mm(4968), mm(2484), mm(0), 2),  # 2 x 2484 exactly
        (Length(mm(4968) + 1), mm(2484), mm(0), 3),
        (mm(4970), mm(2484), mm(2), 2),  # 2 x 2484 + 2 exactly
        (mm(4971), mm(2484), mm(2), 3),
        (mm(100), mm(2484), mm(0), 1),
    ],
)
def test_sections_needed(total: Length, longest: Length, gap: Length, sections: int) -> None:
    """No section is spent where the bars just reach, and gaps at joints help to bridge."""
    assert sections_needed(total, longest, gap) == sections


@pytest.mark.parametrize(
    ("total", "longest", "step", "parts"),
    [
        (mm(5334), mm(2484), mm(1), (mm(1778),) * 3),
        (inches(210), inches("97 3/4"), inches("1/16"), (inches(70),) * 3),
        (mm(3606), mm(2484), mm(1), (mm(1803),) * 2),
        # 5335 / 3 = 1778.33: down to 1778, the last takes the millimetre left over
        (mm(5335), mm(2484), mm(1), (mm(1778), mm(1778), mm(1779))),
        # 7450 / 3 = 2483.33: the last with 2484 is just what a bar yields
        (mm(7450), mm(2484), mm(1), (mm(2483), mm(2483), mm(2484))),
        # 7451 / 3 = 2483.67: 2483 + 2483 would leave 2485 for the last, more than a bar yields
        (mm(7451), mm(2484), mm(1), (mm(2484), mm(2484), mm(2483))),
    ],
)
def test_equal_split(total: Length, longest: Length, step: Length, parts: tuple[Length, ...]) -> None:
    """Equal sections differ by what the saw's steps leave over and by no more."""
    assert equal_split(total, len(parts), longest=longest, step=step) == parts


@pytest.mark.parametrize(
    ("total", "longest", "shortest", "step", "parts"),
    [
        (mm(5334), mm(2484), mm(150), mm(1), (mm(2484), mm(2484), mm(366))),
        (
            inches(210),
            inches("97 3/4"),
            inches(6),
            inches("1/16"),
            (inches("97 3/4"), inches("97 3/4"), inches("14 1/2")),
        ),
        # the rest would be 92 < 150: (2484 + 92) / 2 = 1288 each
        (mm(5060), mm(2484), mm(150), mm(1), (mm(2484), mm(1288), mm(1288))),
        # the same in inches: 199 - 195 1/2 = 3 1/2 < 6, (97 3/4 + 3 1/2) / 2 = 50 5/8
        (
            inches(199),
            inches("97 3/4"),
            inches(6),
            inches("1/16"),
            (inches("97 3/4"), inches("50 5/8"), inches("50 5/8")),
        ),
        # a rest of just 150 is long enough: 2484 + 150
        (mm(2634), mm(2484), mm(150), mm(1), (mm(2484), mm(150))),
        (mm(2000), mm(2484), mm(150), mm(1), (mm(2000),)),
    ],
)
def test_full_split(
    total: Length, longest: Length, shortest: Length, step: Length, parts: tuple[Length, ...]
) -> None:
    """Full bars come first; a rest too short to handle is shared with its neighbour."""
    sections = sections_needed(total, longest)
    assert full_split(total, sections, longest=longest, shortest=shortest, step=step) == parts


def test_a_rest_eaten_by_the_gaps_is_shared() -> None:
    """4971 with gaps of 2 has 4967 of metal in 3 sections: 2 x 2484 is 1 too much, so 1241 + 1242."""
    parts = full_split(mm(4971), 3, longest=mm(2484), gap=mm(2), step=mm(1))
    assert parts == (mm(2484), mm(1241), mm(1242))


@given(
    longest=st.integers(500, 4000),
    step=st.sampled_from([0, 1, 396_875, 500_000, 1_000_000, 1_587_500]),
    total=st.integers(1, 30_000 * 10**6),
    gap=st.integers(0, 3 * 10**6),
    shortest=st.integers(0, 400),
)
def test_sections_and_gaps_make_up_the_run(
    longest: int, step: int, total: int, gap: int, shortest: int
) -> None:
    """However a run is divided, nothing is lost or gained and every section comes out of a bar."""
    most = Length(longest * 10**6 // max(step, 1) * max(step, 1))
    sections = sections_needed(Length(total), most, Length(gap))
    equal = equal_split(Length(total), sections, longest=most, gap=Length(gap), step=Length(step))
    full = full_split(
        Length(total),
        sections,
        longest=most,
        gap=Length(gap),
        shortest=Length(shortest * 10**6),
        step=Length(step),
    )
    for parts in (equal, full):
        assert len(parts) == sections
        assert sum(parts) + (sections - 1) * gap == total
        assert all(0 < part <= most for part in parts)
        assert all(part % max(step, 1) == 0 for part in parts[:-1])


@pytest.mark.parametrize(
    ("tail", "longest"),
    [
        (mm(0), mm(2492)),  # 2500 - 8: the bar ends with the piece, no stroke is left to make
        (mm(1), mm(2489)),  # 2500 - 8 - 3: 1 mm behind the piece would be less than the kerf of 3
        (mm(8), mm(2484)),
    ],
)
def test_a_section_leaves_room_for_a_whole_stroke_where_slivers_are_forbidden(
    tail: Length, longest: Length
) -> None:
    """The longest sections of a jointed run would be left out one and all otherwise."""
    saw = replace(METRIC_SAW, tail_loss=tail)
    assert longest_section([line(mm(2500))], saw, slivers=Slivers.FORBID) == longest


def test_a_step_that_leaves_a_sliver_takes_one_step_more() -> None:
    """2500.4 - 8 = 2492.4, down to whole millimetres 2492: 0.4 mm are left, so 2489.4 - 0.4 = 2489."""
    saw = replace(METRIC_SAW, tail_loss=mm(0))
    assert longest_section([line(mm("2500.4"))], saw, slivers=Slivers.FORBID) == mm(2489)
    assert longest_section([line(mm("2500.4"))], saw) == mm(2492)
