"""Small parts are told in words that count every cap, clip, strip and driver."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from nesting.domain.small_parts import (
    AdhesiveLine,
    CapCount,
    CapKind,
    ConnectorLine,
    Hand,
    PartCount,
    SmallParts,
    StripLine,
)
from nesting.reports.small_part_words import cap_words, driver_words, small_part_rows, small_parts_line

STRIP = StripLine(
    strip="W-24",
    pieces=2,
    length=1_800_000_000,
    watts=Fraction("17.28"),
    driver_watts=Fraction("21.6"),
    outputs=1,
    output_watts=Fraction(96),
)
PARTS = SmallParts(
    caps=(CapCount(CapKind("F", "natural", Hand.LEFT, True), 2),),
    clips=(PartCount("F", "natural", 6),),
    joint_sets=(PartCount("F", "natural", 1),),
    connectors=(ConnectorLine(family="F", feeds=2, jumpers=1),),
    adhesive=(AdhesiveLine("F", "natural", 3_660_000_000),),
    strips=(STRIP,),
)


def test_one_line_says_it_all() -> None:
    """Whoever orders sees every kind of part without opening the workbook."""
    assert small_parts_line(PARTS) == (
        "Small parts: 2 caps, 6 clips, 1 joint set, 3 connectors, 3.66 m of adhesive for F, "
        "1.8 m of strip (17 W, planning aid)."
    )
    assert small_parts_line(SmallParts()) == ""


def test_rows_count_or_measure_every_part() -> None:
    """Counts and amounts never stand in one another's column."""
    rows = small_part_rows(PARTS)
    assert [(row.part, row.kind, row.count, row.amount, row.unit) for row in rows] == [
        ("cap", "holed, left", 2, None, "pieces"),
        ("clip", "", 6, None, "pieces"),
        ("joint set", "", 1, None, "pieces"),
        ("adhesive", "tape or bead", None, Fraction("3.66"), "m"),
        ("connector", "feed, two leads", 2, None, "pieces"),
        ("connector", "corner bridge", 1, None, "pieces"),
        ("strip", "2 pieces", None, Fraction("1.8"), "m"),
        ("load", "planning aid", None, Fraction("17.28"), "W"),
        ("driver", "planning aid", 1, Fraction("21.6"), "W"),
    ]


def test_one_piece_of_strip_is_one_piece() -> None:
    """A bag of one run does not hold "1 pieces"."""
    rows = small_part_rows(SmallParts(strips=(replace(STRIP, pieces=1),)))
    assert rows[0].kind == "1 piece"


def test_caps_are_told_apart() -> None:
    """A hand is named only where it matters."""
    assert cap_words(CapKind("F", "", Hand.NONE, False)) == "solid"
    assert cap_words(CapKind("F", "", Hand.RIGHT, False)) == "solid, right"


def test_drivers_come_with_their_caution() -> None:
    """Nobody may take the sum for a design."""
    assert driver_words(STRIP) == (
        "least rating in sum, loaded to 80 %; 1 output of 96 W with every unit on its own; "
        "a qualified person designs it"
    )
