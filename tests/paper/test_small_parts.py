"""The small parts to lay out."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from nesting.domain.electrics import PLANNING_AID
from nesting.domain.plan import Plan
from nesting.domain.small_parts import CapCount, CapKind, ConnectorLine, Hand, SmallParts, StripLine
from nesting.paper.page_size import PageSize
from nesting.paper.small_parts import write_small_parts
from nesting.reports.lengths import BothUnits
from nesting.reports.small_part_words import has_small_parts
from tests.paper.plans import small_parts_plan
from tests.paper.recording import Recorder
from tests.reports.plans import empty_plan, example_plan

PLAN = small_parts_plan()


def said(tmp_path: Path, recorders: list[Recorder], plan: Plan = PLAN) -> list[str]:
    """Print the list and give its texts."""
    write_small_parts(tmp_path / "s.pdf", plan, BothUnits(), PageSize.A4)
    return recorders[-1].texts


def only(**parts: object) -> Plan:
    """Give a plan with these small parts and no reels."""
    return replace(PLAN, small_parts=SmallParts(**parts), reels=())  # type: ignore[arg-type]


def test_every_count_is_on_the_page_beside_what_it_counts(tmp_path: Path, recorders: list[Recorder]) -> None:
    """Caps by family, finish, hand and hole; clips, joint sets, feeds and bridges, each on its own line."""
    texts = said(tmp_path, recorders)
    for line in (
        ("41", "holed, left", "SARN-12R", "natural"),
        ("43", "solid, right", "SARN-12R", "natural"),
        ("47", "holed", "TOLV-17N", "umber"),
        ("53", "clip", "TOLV-17N", "umber"),
        ("59", "joint set", "BRASK-20F", "umber"),
        ("61", "feed, two leads", "TOLV-17N", ""),
        ("67", "corner bridge", "TOLV-17N", ""),
    ):
        at = texts.index(line[0])
        assert texts[at : at + 4] == list(line)
    assert "Caps, 131 in all" in texts  # 41 + 43 + 47
    assert "Connectors, 128 in all" in texts  # 61 + 67


def test_metres_are_rounded_up_in_both_systems(tmp_path: Path, recorders: list[Recorder]) -> None:
    """1.8 m are 5.906 ft; 3.6600001 m of adhesive are 3.661 m, for 3.66 would not reach."""
    texts = said(tmp_path, recorders)
    assert "1.8 m (6 ft)" in texts
    assert "3.661 m (12.1 ft)" in texts  # 12.0079 ft


def test_every_part_has_its_tick_and_advice_has_none(tmp_path: Path, recorders: list[Recorder]) -> None:
    """Seven counted lines, two measured, one of reels, three pieces of strip; a driver is not picked."""
    said(tmp_path, recorders)
    surface = recorders[0]
    assert sum(1 for _, box, fill in surface.framed if fill == 1 and box.width == box.height) == 7 + 2 + 1 + 3


def test_drivers_are_advice_with_the_caution_in_white_on_black(
    tmp_path: Path, recorders: list[Recorder]
) -> None:
    """Nobody orders or builds from a planning figure without reading that it is one."""
    texts = said(tmp_path, recorders)
    assert {"17.28 W", "21.6 W", "Load and drivers: advice, no order"} <= set(texts)
    assert any(text.endswith("a qualified person designs it") for text in texts)
    loud = [p.text.replace("\N{NO-BREAK SPACE}", " ") for p in recorders[0].printed if p.white]
    assert " ".join(text for text in loud if not text.startswith("goes on")) == PLANNING_AID


def test_no_watts_no_caution(tmp_path: Path, recorders: list[Recorder]) -> None:
    """A caution that stands everywhere is read nowhere."""
    said(tmp_path, recorders, only(strips=(StripLine(strip="W-24", pieces=2, length=1_800_000_000),)))
    assert not any(printed.white for printed in recorders[0].printed)


def test_reels_say_how_many_and_where_each_piece_comes_from(
    tmp_path: Path, recorders: list[Recorder]
) -> None:
    """Marks of 50 mm: 17 are 850 mm; 100 - 17 - 18 = 65 marks stay on the first reel."""
    texts = said(tmp_path, recorders)
    at = texts.index("W-24/R")
    assert texts[at - 1 : at + 3] == [
        "2",
        "W-24/R",
        "5000 mm (~196 27/32 in), 100 marks",
        "no, that is proved",
    ]
    first = texts.index("OY-301-1")
    assert texts[first - 4 : first + 5] == [
        *("1", "1", "17", "850 mm (~33 15/32 in)", "OY-301-1", "OY", "1", "1", ""),
    ]
    assert "65 left" in texts
    unproved = replace(PLAN, reels=(replace(PLAN.reels[0], bound=1),))
    assert "perhaps; at least 1 are needed" in said(tmp_path, recorders, unproved)


def test_every_page_of_strip_repeats_its_headings(tmp_path: Path, recorders: list[Recorder]) -> None:
    """Marks and millimetres stand side by side: without their headings one is taken for the other."""
    many = replace(PLAN.reels[0], reels=PLAN.reels[0].reels * 20)  # 60 pieces at 10 mm: three pages
    said(tmp_path, recorders, replace(PLAN, reels=(many,)))
    pages = [printed.page for printed in recorders[0].printed if printed.text == "marks"]
    assert len(pages) == len(set(pages)) == 3


def test_hands_are_explained_only_where_caps_have_them(tmp_path: Path, recorders: list[Recorder]) -> None:
    """Left is left for one who faces the light."""
    assert any("facing the lit face" in text for text in said(tmp_path, recorders))
    plain = only(caps=(CapCount(CapKind("F", "", Hand.NONE, holed=True), 2),))
    assert not any("facing the lit face" in text for text in said(tmp_path, recorders, plain))


def test_a_plan_with_runs_left_out_says_that_their_parts_are_missing(
    tmp_path: Path, recorders: list[Recorder]
) -> None:
    """R-7 is in no bar, and its caps are in no bag."""
    plan = replace(PLAN, unplaced=example_plan().unplaced)
    assert any(text.startswith("The plan is not complete") for text in said(tmp_path, recorders, plan))


@pytest.mark.parametrize(
    ("plan", "expected"),
    [
        (PLAN, True),
        (replace(PLAN, small_parts=None), True),  # the reels are left
        (replace(PLAN, reels=()), True),
        (empty_plan(), False),
        (only(), False),
        (only(connectors=(ConnectorLine(family="F", feeds=0, jumpers=0),)), False),
    ],
)
def test_a_list_is_wanted_only_with_something_on_it(plan: Plan, expected: bool) -> None:
    """An empty sheet of paper makes one look for what should be on it."""
    assert has_small_parts(plan) is expected


def test_lines_of_nothing_are_not_printed(tmp_path: Path, recorders: list[Recorder]) -> None:
    """A family fed only through its corners needs bridges and no lead entry."""
    texts = said(tmp_path, recorders, only(connectors=(ConnectorLine(family="F", feeds=0, jumpers=3),)))
    assert "corner bridge" in texts
    assert "feed, two leads" not in texts


def test_the_same_list_gives_the_same_bytes(tmp_path: Path) -> None:
    """Two prints of one list are one print."""
    pages = [write_small_parts(tmp_path / name, PLAN, BothUnits(), PageSize.A4) for name in ("a", "b")]
    assert pages[0] == pages[1]
    assert (tmp_path / "a").read_bytes() == (tmp_path / "b").read_bytes()
