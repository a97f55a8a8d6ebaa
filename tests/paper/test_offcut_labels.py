"""A label a tail that is kept."""

from __future__ import annotations

from nesting.paper.offcut_labels import offcut_labels
from nesting.reports.lengths import BothUnits
from nesting.reports.whereabouts import born_offcuts
from nesting.units import mm
from tests.batch.shop import again, done, order, planned
from tests.reports.plans import empty_plan, example_plan

PLAN = example_plan()


def test_every_born_offcut_has_one_label() -> None:
    """Each tag once, in saw order."""
    labels = offcut_labels(PLAN, BothUnits())
    assert [label.beside[1].text for label in labels] == [bar.tail_tag for _, bar in born_offcuts(PLAN)]
    assert offcut_labels(empty_plan(), BothUnits()) == ()


def test_its_length_is_calculated_and_room_is_left_for_the_measured_one() -> None:
    """A rack that believes calculated lengths loses bars: about, and a line to write on."""
    label = offcut_labels(PLAN, BothUnits())[0]
    lines = [line.text.replace("\N{NO-BREAK SPACE}", " ") for line in (*label.beside, *label.below)]
    # 3000 - 8 - (1778 + 3) - (124 + 3) = 1084 mm = 42.677 in, nearest 42 43/64
    assert lines == [
        "OFFCUT",
        "7C1F-3",
        "about 1084 mm",
        "about 42 43/64 in",
        "measured ____________",
        "with COVER, BRASK-20F umber, lot OY",
        "one end clean, one raw · rack ________",
        "born: plan 7c1f2e90ab34 · bar 3",
    ]
    assert label.code == "7C1F-3 7c1f2e90ab34"


def test_what_came_about_at_the_saw_gets_its_tag_printed() -> None:
    """A spoiled 1000 with two clean ends is measured already; the tail's own tag was printed before."""
    plan = planned(order({1460: 3}, bars={2000: "11.40"}))
    made = again(plan, done(1, L1460_1=mm(1000))).plan
    label = offcut_labels(made, BothUnits())[0]
    lines = [line.text.replace("\N{NO-BREAK SPACE}", " ") for line in (*label.beside, *label.below)]
    assert lines[1] == f"{plan.id[:6].upper()}-1S1"
    assert lines[2] == "1000 mm"
    assert "both ends clean" in lines[6]
