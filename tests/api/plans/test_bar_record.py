"""A bar is kept so that nothing of it is lost."""

from __future__ import annotations

import json
from dataclasses import MISSING, fields
from fractions import Fraction

from api.plans.bar_record import BarRecord, Share, from_json, to_json
from nesting.domain.made import BarState, Span, Spoiled, Zone
from nesting.domain.material import Material, Part
from nesting.domain.plan import Cut, PlannedBar, TailFate
from nesting.units import mm

CUT = Cut(
    piece="OY-1",
    length=mm(610),
    face=mm(618),
    held=False,
    long_point=mm(640),
    slope_start=Fraction(45),
    slope_end=Fraction(-91, 2),
    turned=True,
)
BAR = PlannedBar(
    number=7,
    source="FL-1",
    offcut=True,
    length=mm(2500),
    head=mm(8),
    tail_loss=mm(9),
    cuts=(CUT,),
    strokes=2,
    kerf_loss=mm(3),
    tail=mm(1879),
    fate=TailFate.OFFCUT,
    tail_tag="P1-7",
    sliver=True,
    state=BarState.STOPPED,
    true_tail=mm(1880),
    short=True,
    spoiled=(Spoiled("OY-1", mm(605), "P1-7S1"),),
    defects=(Span(mm(10), mm(20)),),
    zones=(Zone(mm(30), mm(400), "P1-7Z1"),),
)
RECORD = BarRecord(
    bar=BAR,
    material=Material("TOLV-17N", "natural", Part.COVER, "L3"),
    keep_length=mm(400),
    shelf="a" * 32,
    cover_shelf="b" * 32,
    covers={"OY-1": mm(611)},
    jobs={"OY-1": "OY"},
    shares={"OY": Share(1, 2, 3, 4)},
)


def test_every_field_of_the_example_says_something() -> None:
    """A field added to bars or cuts later must be put into the example, or the next test would not see it."""
    for value in (BAR, CUT, RECORD):
        silent = [
            f.name for f in fields(value) if f.default is not MISSING and getattr(value, f.name) == f.default
        ]
        assert not silent


def test_a_record_reads_back_the_same_field_by_field() -> None:
    """What the saw is told, and what was made of it, survives the store."""
    back = from_json(json.loads(json.dumps(to_json(RECORD))))
    for field in fields(BarRecord):
        assert getattr(back, field.name) == getattr(RECORD, field.name), field.name
    for field in fields(PlannedBar):
        assert getattr(back.bar, field.name) == getattr(BAR, field.name), field.name
        assert type(getattr(back.bar, field.name)) is type(getattr(BAR, field.name)), field.name
    assert isinstance(back.bar.cuts[0].slope_start, Fraction)


def test_a_record_without_the_newer_fields_is_an_open_bar() -> None:
    """Plans that were released before this version can still be cut."""
    old = json.loads(json.dumps(to_json(RECORD)))
    for name in ("state", "true_tail", "short", "spoiled", "defects", "zones"):
        del old["bar"][name]
    bar = from_json(old).bar
    assert (bar.state, bar.true_tail, bar.spoiled, bar.zones) == (BarState.OPEN, None, (), ())
