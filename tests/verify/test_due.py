"""The auditor's own lengths follow from clearances, caps and noses, apart from the take-off."""

from __future__ import annotations

from dataclasses import replace

import pytest

from nesting.domain.material import CapStyle, Family
from nesting.domain.runs import EndCondition, LengthKind, Run
from nesting.units import mm
from nesting.verify.due import Due, caps_length, channel_due, noses_length

CAP, HOLED, BARE = EndCondition.SOLID_CAP, EndCondition.HOLED_CAP, EndCondition.BARE
FAMILY = Family(
    name="TOLV-17N", cap_style=CapStyle.NOSE, cap_thickness=mm("1.5"), nose=mm(8), clearance=mm(2)
)
OPENING = Run(job="J1", id="A", family="TOLV-17N", length=mm(600), kind=LengthKind.OPENING, right=HOLED)


def test_an_opening_loses_clearances_and_caps() -> None:
    """600 less 2 + 2 and 1.5 + 1.5 are 593; one end's own clearance stands before the family's."""
    assert channel_due(OPENING, FAMILY, 0) == Due(mm(593), 0, down=True)
    tight = replace(OPENING, clearance_left=mm(0))
    assert channel_due(tight, FAMILY, 0).exact == mm(595)


def test_a_finished_size_loses_its_caps_and_a_channel_nothing() -> None:
    """600 over all with one cap of 1.5 is a channel of 598.5; a channel length is what the saw cuts."""
    finished = replace(OPENING, kind=LengthKind.FINISHED, left=BARE)
    assert channel_due(finished, FAMILY, 0) == Due(mm("598.5"), 0, down=False)
    assert channel_due(replace(finished, kind=LengthKind.CHANNEL), FAMILY, 0).exact == mm(600)


def test_caps_that_sit_inside_take_nothing_off_the_channel() -> None:
    """They take it off the cover instead."""
    inner = Family(name="SARN-12R", cap_style=CapStyle.INNER, nose=mm(5))
    assert caps_length(replace(OPENING, kind=LengthKind.FINISHED), inner) == 0
    assert noses_length(inner, CAP, HOLED) == mm(10)


def test_noses_are_counted_at_capped_ends_of_caps_that_have_one() -> None:
    """A bare end, a joint and a flush cap leave the channel open to its end."""
    assert noses_length(FAMILY, CAP, HOLED) == mm(16)
    assert noses_length(FAMILY, CAP, EndCondition.JOINT) == mm(8)
    assert noses_length(FAMILY, BARE, BARE) == 0
    assert noses_length(Family(name="F", cap_thickness=mm(2)), CAP, CAP) == 0


@pytest.mark.parametrize(
    ("due", "allowed", "refused"),
    [
        (Due(1000, 0, down=False), [1000], [999, 1001]),
        # To the nearest 10: five either way.
        (Due(1000, 10, down=False), [995, 1000, 1005], [994, 1006]),
        # Down to a multiple of 10: less than a step.
        (Due(1000, 10, down=True), [991, 1000], [990, 1001]),
    ],
)
def test_rounding_moves_a_length_by_less_than_it_matters(
    due: Due, allowed: list[int], refused: list[int]
) -> None:
    """What goes into an opening may come out short, never long."""
    assert all(due.allows(length) for length in allowed)
    assert not any(due.allows(length) for length in refused)
