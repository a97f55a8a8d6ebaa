"""Offcuts to fetch."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from nesting.paper.page_size import PageSize
from nesting.paper.pick_list import write_pick_list
from nesting.reports.lengths import BothUnits
from tests.paper.recording import Recorder
from tests.reports.plans import example_plan

PLAN = example_plan()


def test_the_list_walks_along_the_rack(tmp_path: Path, recorders: list[Recorder]) -> None:
    """Place B2 comes before B10; tag, length in both units, ends and the bar it becomes are there."""
    places = {"OC-0112": "B10", "OC-0107": "B2"}
    offcuts = tuple(replace(o, place=places.get(o.tag, "A1")) for o in PLAN.request.offcuts)
    plan = replace(PLAN, request=replace(PLAN.request, offcuts=offcuts))
    assert write_pick_list(tmp_path / "p.pdf", plan, BothUnits(), PageSize.A4) == 1
    said = recorders[0].texts
    assert said.index("B2") < said.index("OC-0107") < said.index("B10") < said.index("OC-0112")
    assert "1815 mm (~71 29/64 in)" in said
    assert {"clean / raw", "clean / clean", "10", "11"} <= set(said)


def test_offcuts_that_stay_are_not_listed(tmp_path: Path, recorders: list[Recorder]) -> None:
    """OC-0098 is not used; fetching it would only mislay it."""
    write_pick_list(tmp_path / "p.pdf", PLAN, BothUnits(), PageSize.A4)
    assert "2 offcuts to fetch" in recorders[0].texts
    assert "OC-0098" not in recorders[0].texts


def test_a_rack_place_in_many_words_is_read_from_a_higher_row(
    tmp_path: Path, recorders: list[Recorder]
) -> None:
    """Nobody looks for an offcut behind an ellipsis."""
    place = "hall 3, rack on the south wall, bay 17, lower left behind the pillar"
    offcuts = tuple(replace(offcut, place=place) for offcut in PLAN.request.offcuts)
    write_pick_list(
        tmp_path / "p.pdf",
        replace(PLAN, request=replace(PLAN.request, offcuts=offcuts)),
        BothUnits(),
        PageSize.A4,
    )
    printed = [p.fitted for p in recorders[0].printed if p.text == place]
    assert len(printed) == 2
    assert all(fitted.size >= 8.0 and "…" not in "".join(fitted.lines) for fitted in printed)
