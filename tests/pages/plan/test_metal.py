"""The account of the metal."""

import pytest

from api.pages.plan import metal as module
from api.pages.plan.metal import metal_view, metres
from nesting.units import mm
from tests.reports.plans import empty_plan, example_plan

PLAN = example_plan()


def test_the_metal_adds_up() -> None:
    """Used = good + kerf + trim + returned + scrap, as a picture too."""
    metal = metal_view(PLAN)
    assert sum(float(part.width) for part in metal.picture) == pytest.approx(100, abs=0.01)
    assert [part.word for part in metal.picture] == ["good", "kerf", "trim", "returned", "scrap"]
    # 50.4095 m used, 42.828 good, 0.1105 kerf, 0.136 trim, 6.479 returned, 0.856 scrap
    assert metal.rows[-1].metres == ("50.41", "42.83", "0.11", "0.14", "6.48", "0.86")


def test_all_together_is_never_left_out(monkeypatch: pytest.MonkeyPatch) -> None:
    """Of hundreds of materials the first are listed, and always the sum."""
    monkeypatch.setattr(module, "MOST_ROWS", 2)
    assert [row.name for row in metal_view(PLAN).rows][2:] == ["all"]


def test_nothing_cut_uses_no_metal() -> None:
    """An empty plan has no picture and divides by nothing."""
    assert metal_view(empty_plan()).picture == ()


def test_metres_are_told_to_the_centimetre() -> None:
    """Sums of a building in millimetres are hard to read."""
    assert metres(mm("466376.8")) == "466.38"
