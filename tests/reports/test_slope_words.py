"""The operator reads of a mitred piece what stop, face and slopes mean, and nothing of a square one."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from nesting.domain.material import Material, Part
from nesting.domain.pieces import Piece
from nesting.domain.plan import Cut
from nesting.domain.runs import EndCondition
from nesting.reports.slope_words import end_words, lies_words, marked, slope_notes
from nesting.units import mm
from tests.paper.plans import gang_plan, mitred_plan

SLOPED = Cut(
    piece="OY-101-7",
    length=mm(2824),
    face=mm(2824),
    long_point=mm(2839),
    slope_end=Fraction(-45, 2),
    turned=True,
)
SQUARE = Cut(piece="OY-101-1", length=mm(900), face=mm(900))


def test_marks_stand_beside_the_piece() -> None:
    """The operator sees which end leans and which way."""
    assert marked(SLOPED, SLOPED.piece) == "| OY-101-7 \\"
    assert marked(SQUARE, SQUARE.piece) == "OY-101-1"


def test_angle_and_turn_in_words() -> None:
    """The saw is set by the angle; a turned piece is laid end for end."""
    assert lies_words(SLOPED) == "mitre 22.5° \\, turned"
    assert lies_words(SQUARE) == ""


def test_notes_say_what_the_stop_is_and_how_pieces_lie() -> None:
    """Long point or centre line is a centimetre on a wide channel; a note stands only where it is needed."""
    (group,) = mitred_plan().groups
    straight, lying = group.bars[0], group.bars[1]
    assert slope_notes(gang_plan().groups[0].bars) == ()
    assert [note[:6] for note in slope_notes((straight,))] == ["Stop ="]
    # in every other bar the mitred piece lies turned; one such bar is enough for the note
    assert [note[:6] for note in slope_notes((straight, lying))] == ["Stop =", "TURNED"]
    last = replace(straight, cuts=(*straight.cuts[:-1], replace(straight.cuts[-1], slope_end=Fraction(45))))
    assert slope_notes((last,))[-1].startswith("The tail's near end stays sloped")


def test_ends_in_words() -> None:
    """The label says the angle at the end that has it."""
    piece = Piece(
        id="a",
        job="J",
        run="a",
        material=Material("Q", "", Part.CHANNEL),
        length=mm(2824),
        exact=mm(2824),
        long_point=mm(2839),
        slope_right=Fraction(-45),
        left=EndCondition.HOLED_CAP,
        right=EndCondition.MITRE,
    )
    assert end_words(piece) == ("holed cap", "mitre 45 \\")
