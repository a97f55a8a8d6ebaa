"""One bar's page: what to take, how it lies, what to mind."""

from __future__ import annotations

from dataclasses import replace

import pytest

from api.pages.saw.sheet import Sheets, Source
from nesting.reports.cautions import MEASURE, SAW
from nesting.reports.lengths import METRIC
from nesting.reports.slope_words import slope_notes
from tests.pages.saw.sheets import CLEAN, TRIMMED, plan_of, sheet_of
from tests.paper.plans import mitred_plan


def test_a_raw_end_is_trimmed_and_a_clean_one_is_not() -> None:
    """8 mm off the raw end first, or straight to the stop."""
    trimmed = sheet_of(plan_of(("610",) * 4, 2500, TRIMMED))
    assert trimmed.trim is not None
    assert (trimmed.trim.figure, trimmed.far_end) == ("8", "raw end")
    clean = sheet_of(plan_of(("610",) * 4, 2500, CLEAN))
    assert (clean.trim, clean.far_end) == (None, "clean end")


def test_the_drawing_is_to_scale_and_whole() -> None:
    """The stretches of a bar fill its drawing; each piece has the number of its cut."""
    stretches = sheet_of(plan_of(("610",) * 4, 2500, TRIMMED)).stretches
    assert sum(float(part.width) for part in stretches) == pytest.approx(100, abs=0.02)
    assert [part.order for part in stretches if part.kind == "piece"] == [1, 2, 3, 4]


def test_dangers_and_cautions_stand_on_the_sheet() -> None:
    """What cannot be held is shouted; the cautions for the saw are there for every bar."""
    sheet = sheet_of(plan_of(("100", "100"), 300))
    assert sheet.warnings[0].startswith("CUT 2 CANNOT BE HELD")
    assert {MEASURE, SAW} <= set(sheet.cautions)


def test_a_long_bar_is_carried_by_two() -> None:
    """Above 3 m it is said where the bar is fetched, not only among the cautions."""
    assert not sheet_of(plan_of(("610",), 3000)).two_people
    assert sheet_of(plan_of(("610",), 3001)).two_people


def test_the_lot_on_the_rack_is_the_one_to_take() -> None:
    """An offcut brings its own lot and place; without one the bar may be of any."""
    plan = plan_of(("610",) * 4, 2500, TRIMMED)
    assert sheet_of(plan).lot == "any lot; never two in one room"
    assert sheet_of(plan, source=Source("FL-1", "A", "U26")).lot == "lot U26"


def test_bars_know_their_neighbours() -> None:
    """Three bars of 2500 for eleven pieces of 610, four a bar."""
    sheets = [sheet_of(plan_of(("610",) * 11, 2500, TRIMMED), number) for number in (1, 2, 3)]
    assert [(one.before, one.behind, one.place, one.count) for one in sheets] == [
        (None, 2, 1, 3),
        (1, 3, 2, 3),
        (2, None, 3, 3),
    ]


def test_neighbours_go_by_the_order_of_cutting() -> None:
    """A plan made again may cut bar 3 before bar 2; the paper lists them so, and so does the tablet."""
    plan = plan_of(("610",) * 11, 2500, TRIMMED)
    (group,) = plan.groups
    one, two, three = group.bars
    moved = replace(plan, groups=(replace(group, bars=(one, three, two)),))
    assert [(s.before, s.behind, s.place) for s in (sheet_of(moved, number) for number in (1, 3, 2))] == [
        (None, 3, 1),
        (1, 2, 2),
        (3, None, 3),
    ]


def test_a_bar_that_is_not_in_the_plan() -> None:
    """There is one bar; the second is asked for in vain."""
    sheets = Sheets(plan_of(("610",) * 4, 2500, TRIMMED), METRIC)
    assert sheets.numbers == (1,)
    with pytest.raises(KeyError):
        sheets.planned(2)


def test_a_mitred_bar_says_what_its_stop_and_its_face_are() -> None:
    """Protects a centimetre on a wide channel: the stop is a long point, the face a centre line."""
    plan = mitred_plan()
    (group,) = plan.groups
    bar = group.bars[0]
    assert sheet_of(plan, bar.number).notes == slope_notes((bar,))
    assert sheet_of(plan, bar.number).notes[0].startswith("Stop = long point.")
    assert sheet_of(plan_of(("610",), 2000)).notes == ()
