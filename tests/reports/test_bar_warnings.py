"""What a block shouts."""

from __future__ import annotations

from dataclasses import replace

from nesting.domain.plan import TailFate
from nesting.reports.bar_warnings import bar_warnings, without_last_stroke
from nesting.reports.lengths import BothUnits
from nesting.units import NO_LENGTH
from tests.paper.plans import gang_plan
from tests.reports.plans import SAW

BAR = gang_plan().groups[0].bars[0]


def test_a_plain_bar_is_quiet() -> None:
    """Warnings everywhere would be read nowhere."""
    assert bar_warnings(BAR, SAW, BothUnits()) == ()


def test_unheld_cuts_are_named() -> None:
    """The cut's number, the grip length and what to do are all said."""
    cuts = tuple(replace(cut, held=number < 2) for number, cut in enumerate(BAR.cuts))
    (said,) = bar_warnings(replace(BAR, cuts=cuts), SAW, BothUnits())
    assert said.startswith("CUTS 3-4 CANNOT BE HELD")
    assert "150\N{NO-BREAK SPACE}mm" in said


def test_a_sliver_is_named() -> None:
    """The blade half in air is said with the number of the last cut."""
    (said,) = bar_warnings(replace(BAR, sliver=True), SAW, BothUnits())
    assert said.startswith("CUT 4 LEAVES LESS THAN A KERF")


def test_a_piece_that_ends_with_its_bar_needs_no_stroke() -> None:
    """A head trim and three strokes free four pieces when nothing is left behind."""
    exact = replace(BAR, strokes=4, tail=NO_LENGTH, fate=TailFate.NONE)
    assert without_last_stroke(exact)
    assert not without_last_stroke(BAR)
