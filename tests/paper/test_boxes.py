"""What goes into which box."""

from __future__ import annotations

from dataclasses import replace

from nesting.paper.boxes import natural, unit_boxes
from nesting.units import mm
from tests.reports.plans import empty_plan, example_plan


def test_every_placed_piece_is_in_exactly_one_box() -> None:
    """Nothing is forgotten, nothing packed twice."""
    plan = example_plan()
    packed = [piece.id for box in unit_boxes(plan) for piece, _ in box.pieces]
    placed = [cut.piece for group in plan.groups for bar in group.bars for cut in bar.cuts]
    assert sorted(packed) == sorted(placed)


def test_a_box_holds_one_unit_of_one_job() -> None:
    """Two floors, two jobs and two units never share a box."""
    for box in unit_boxes(example_plan()):
        places = {(p.job, p.place.building, p.place.floor, p.place.unit) for p, _ in box.pieces}
        assert places == {(box.job, box.building, box.floor, box.unit)}


def test_a_box_knows_its_longest_piece_and_its_last_bar() -> None:
    """The carton's length and the moment it can be closed."""
    (box,) = [box for box in unit_boxes(example_plan()) if box.unit == "OY-304"]
    assert box.longest == mm("1803.5")
    assert box.complete_after == max(bar for _, bar in box.pieces)


def test_a_box_waits_for_the_bar_that_is_cut_last_not_for_the_highest_number() -> None:
    """A plan after a report keeps the bars' numbers and cuts them in another order, the order of its list."""
    plan = example_plan()
    groups = tuple(replace(group, bars=group.bars[::-1]) for group in reversed(plan.groups))
    turned = replace(plan, groups=groups)
    several = 0
    for box, other in zip(unit_boxes(plan), unit_boxes(turned), strict=True):
        numbers = {bar for _, bar in box.pieces}
        several += len(numbers) > 1
        assert (box.complete_after, other.complete_after) == (max(numbers), min(numbers))
    assert several > 0


def test_what_the_plan_leaves_out_is_missing_from_its_box() -> None:
    """A box that can never be complete says what it lacks."""
    missing = {
        box.job: [left.run for left in box.missing] for box in unit_boxes(example_plan()) if box.missing
    }
    assert missing == {"RUSH": ["R-7"]}


def test_rooms_are_in_order_within_a_box() -> None:
    """The packer goes from room to room once."""
    for box in unit_boxes(example_plan()):
        rooms = [piece.place.room for piece, _ in box.pieces]
        assert rooms == sorted(rooms)


def test_numbers_inside_texts_sort_as_numbers() -> None:
    """Rack A10 lies behind A2; digits of other scripts count too, signs that only look like digits do not."""
    assert sorted(["A10", "A2", "A1b"], key=natural) == ["A1b", "A2", "A10"]
    assert sorted(["²", "1"], key=natural) == ["1", "²"]


def test_no_plan_no_box() -> None:
    """An empty plan packs nothing."""
    assert unit_boxes(empty_plan()) == ()
