"""Cut sheets as a document."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from nesting.domain.report import BarReport, Outcome
from nesting.paper.cut_sheets import write_cut_sheets
from nesting.paper.page_size import PageSize
from nesting.reports.lengths import BothUnits
from tests.batch.shop import again, done, order, planned
from tests.paper.recording import Recorder
from tests.reports.plans import example_plan

PLAN = example_plan()


def sheets(tmp_path: Path, recorders: list[Recorder]) -> Recorder:
    """Print the example."""
    pages = write_cut_sheets(tmp_path / "c.pdf", PLAN, BothUnits(), PageSize.A4)
    assert pages == recorders[0].pages
    return recorders[0]


def page_texts(surface: Recorder, page: int) -> list[str]:
    """Give what one page says."""
    return [p.text.replace("\N{NO-BREAK SPACE}", " ") for p in surface.printed if p.page == page]


def test_the_first_page_warns_before_anything_is_cut(tmp_path: Path, recorders: list[Recorder]) -> None:
    """What this plan gives cause for is white on black, above what always holds."""
    surface = sheets(tmp_path, recorders)
    loud = " ".join(p.text for p in surface.printed if p.page == 0 and p.white)
    assert "1 PIECE IS NOT PLACED" in loud
    assert "Too little left to hold: bar 2." in loud
    assert "Bars over 3 m" in loud
    said = " ".join(page_texts(surface, 0))
    assert "guards on" in said
    assert "kerf (k)" in said


def test_every_page_of_a_material_says_what_is_under_the_blade(
    tmp_path: Path, recorders: list[Recorder]
) -> None:
    """Material, lot, plan, saw and the first-off note are on every page with bars."""
    surface = sheets(tmp_path, recorders)
    heads = {f"{g.material.family} {g.material.finish} {g.material.part.value}" for g in PLAN.groups}
    for page in range(1, surface.pages):
        said = page_texts(surface, page)
        assert len(heads & set(said)) == 1
        assert f"plan {PLAN.id}" in said
        assert any(text.startswith("Saw: kerf") for text in said)
        assert any(text.startswith("First-off: measure") for text in said)


def test_the_cover_saw_is_named_where_covers_are_cut(tmp_path: Path, recorders: list[Recorder]) -> None:
    """A cover blade of 2.5 mm is not mistaken for the channel's 3 mm."""
    surface = sheets(tmp_path, recorders)
    for page in range(1, surface.pages):
        said = page_texts(surface, page)
        kerf = next(text for text in said if text.startswith("Saw: kerf")).split(" (")[0]
        assert kerf == ("Saw: kerf 2.5 mm" if "SARN-12R natural cover" in said else "Saw: kerf 3 mm")


def test_a_bound_lot_is_said_as_binding(tmp_path: Path, recorders: list[Recorder]) -> None:
    """A dyed finish of one job is cut from its lot and no other."""
    said = sheets(tmp_path, recorders).texts
    assert "lot OY, no other" in said
    assert "any lot; never two in one room" in said


def test_a_cover_set_back_is_said(tmp_path: Path, recorders: list[Recorder]) -> None:
    """TOLV-17N has nose caps: cut in one stroke, its cover comes to less than the channel."""
    tolv = replace(PLAN, groups=(replace(PLAN.groups[3], cover_follows=True),))
    write_cut_sheets(tmp_path / "c.pdf", tolv, BothUnits(), PageSize.A4)
    assert any("set back by the caps' noses" in text for text in recorders[0].texts)


def test_bars_that_are_cut_are_not_printed_again(tmp_path: Path, recorders: list[Recorder]) -> None:
    """A tired operator cuts what is on the sheet; the first page says what is left out."""
    plan = planned(order({1460: 3}, bars={2000: "11.40"}))
    frozen = BarReport(bar=2, outcome=Outcome.FROZEN)
    made = again(plan, done(1), frozen).plan
    write_cut_sheets(tmp_path / "c.pdf", made, BothUnits(), PageSize.A4)
    said = [p.text.replace("\N{NO-BREAK SPACE}", " ") for p in recorders[0].printed]
    assert "BAR 1" not in said
    assert {"BAR 2", "BAR 3"} <= set(said)
    loud = " ".join(p.text for p in recorders[0].printed if p.white)
    assert "Cut already and not in these lists: bar 1." in loud
    assert "FROZEN: the same as on the sheets before" in loud
