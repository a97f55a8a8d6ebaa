"""The catalogue's sheets hold everything that a family has."""

from __future__ import annotations

from dataclasses import MISSING, fields
from fractions import Fraction
from pathlib import Path

from api.catalogue.contents import Contents
from api.catalogue.workbook import read_catalogue, write_catalogue
from nesting.domain.material import CapStyle, CoverMode, Family, LotRule, SplitRule
from nesting.units import Length, mm

FAMILY = Family(
    name="TOLV-17N",
    cap_style=CapStyle.NOSE,
    cap_thickness=mm(2),
    nose=mm(8),
    cover_mode=CoverMode.SEPARATE,
    cover_play=mm(1),
    clearance=mm(3),
    lot_rule=LotRule.ROOM,
    split_rule=SplitRule.FULL,
    joint_gap=Length(500_000),
    shortest_section=mm(300),
    strip_pitch=Fraction(50_000_000, 3),
    strip_feed=mm(10),
    strip_tail=mm(5),
    strip_name="S-24",
    strip_width=mm(10),
    strip_watts=Fraction(96, 10),
    strip_volts=Fraction(24),
    strip_longest=mm(5000),
    strip_longest_both=mm(9000),
    strip_reel=mm(20000),
    strip_solder=mm(500),
    strip_reach=mm(4),
    wire="0.75 mm2",
    wire_length=mm(2500),
    width=mm(17),
    height=Length(8_500_000),
    symmetric=False,
    handed_caps=True,
    clip_edge=mm(60),
    clip_spacing=mm(500),
    clip_single_below=mm(250),
    adhesive_rows=2,
    cover_stagger=mm(120),
    cover_coil=True,
    channel_expansion=Fraction(23, 1_000_000),
    cover_expansion=Fraction(7, 100_000),
    weight=Fraction(31, 100),
    heat_above=Fraction(30),
    heat_below=Fraction(20),
)


def test_the_example_says_everything() -> None:
    """A field that a family gets later must be put into the example, or the next test would not see it."""
    assert not [
        f.name for f in fields(Family) if f.default is not MISSING and getattr(FAMILY, f.name) == f.default
    ]


def test_a_family_reads_back_field_by_field(tmp_path: Path) -> None:
    """A mitre needs the width, a circuit its longest run: what is lent to a list must be whole."""
    path = tmp_path / "stock.xlsx"
    write_catalogue(Contents(families=(FAMILY,)), path)
    (back,) = read_catalogue(path).families
    for field in fields(Family):
        assert getattr(back, field.name) == getattr(FAMILY, field.name), field.name
