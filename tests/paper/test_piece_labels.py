"""A label a piece."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from nesting.domain.electrics import Feed
from nesting.domain.runs import EndCondition
from nesting.domain.status import Status
from nesting.paper.label import Label
from nesting.paper.label_grid import LabelGrid
from nesting.paper.page_size import PageSize
from nesting.paper.piece_labels import piece_labels, write_piece_labels
from nesting.paper.saw_order import cuts_in_order
from nesting.reports.lengths import BothUnits
from tests.paper.plans import gang_plan
from tests.paper.recording import Recorder
from tests.reports.plans import example_plan

PLAN = example_plan()


def said(label: Label) -> list[str]:
    """Give a label's lines from the top."""
    return [line.text.replace("\N{NO-BREAK SPACE}", " ") for line in (*label.beside, *label.below)]


def test_labels_come_in_the_order_of_the_cut_sheets() -> None:
    """The next label on the sheet belongs to the next piece off the saw."""
    for plan in (PLAN, gang_plan()):
        cut = [cut.piece for _, _, cut in cuts_in_order(plan)]
        assert [said(label)[0] for label in piece_labels(plan, BothUnits())] == cut


def test_a_label_says_all_that_assembler_packer_and_installer_need() -> None:
    """Identity, place, both units, cover, material and lot, ends, and the way back to the saw."""
    label = piece_labels(PLAN, BothUnits())[0]
    assert said(label) == [
        "OY-304-7/1",
        "OY-304 · floor 3",
        "hall",
        "1778 mm",
        "70 in, cover 1778 mm",
        "BRASK-20F umber, lot OY",
        "left solid cap, right joint",
        "job OY",
        "plan 7c1f2e90ab34 · bar 1 cut 1",
    ]
    assert label.code == "OY-304-7/1 7c1f2e90ab34"


def test_a_label_names_the_building_where_a_job_has_several() -> None:
    """Unit and floor alone would send half of the pieces to the wrong door."""
    pieces = tuple(
        replace(piece, place=replace(piece.place, building="North" if at % 2 else "South"))
        for at, piece in enumerate(PLAN.pieces)
    )
    plan = replace(PLAN, pieces=pieces)
    known = {piece.id: piece for piece in pieces}
    for label in piece_labels(plan, BothUnits()):
        name, where, *_ = said(label)
        assert where.startswith(known[name].place.building)


def test_a_cover_is_marked_as_one_and_an_unknown_lot_is_written_in() -> None:
    """Covers of the same run differ from their channels at a glance."""
    label = next(label for label in piece_labels(PLAN, BothUnits()) if said(label)[0] == "OY-306-1c")
    assert said(label)[5] == "COVER SARN-12R natural, lot ________"


def test_the_feed_side_is_beside_the_ends_where_it_is_known() -> None:
    """Strip goes into OY-304-1 at its holed cap, left; OY-304-6 has none until its list says a feed."""
    holed = {"OY-304-1": {"left": EndCondition.HOLED_CAP}}
    found = []
    for changes in (holed, {**holed, "OY-304-6": {"feed": Feed.RIGHT}}):
        runs = tuple(replace(run, **changes.get(run.id, {})) for run in PLAN.request.runs)  # type: ignore[arg-type]
        plan = replace(PLAN, request=replace(PLAN.request, runs=runs))
        found.append({lines[0]: lines[6] for lines in map(said, piece_labels(plan, BothUnits()))})
    assert found[0]["OY-304-1"] == "left holed cap, right solid cap, feed left"
    assert "feed" not in found[0]["OY-304-6"]
    assert found[1]["OY-304-6"].endswith("feed right")


def test_notes_and_unknown_columns_stay_off_the_label() -> None:
    """A list may hold residents' names in its own columns; a label never shows them."""
    runs = tuple(
        replace(run, note="Mrs Pellowe, 2nd bell", extra=(("Resident", "A. Pellowe"),))
        for run in PLAN.request.runs
    )
    plan = replace(PLAN, request=replace(PLAN.request, runs=runs))
    assert not any("Pellowe" in text for label in piece_labels(plan, BothUnits()) for text in said(label))


def test_a_size_that_is_not_verified_is_marked_on_its_label() -> None:
    """The label is the last thing seen before a piece is stuck to a wall it may not fit."""
    runs = tuple(
        replace(run, status=Status.DRAWING) if run.id == "OY-304-6" else run for run in PLAN.request.runs
    )
    labels = piece_labels(replace(PLAN, request=replace(PLAN.request, runs=runs)), BothUnits())
    assert [said(label)[0] for label in labels if said(label)[3].startswith("VERIFY ")] == ["OY-304-6"]


def test_a_long_job_takes_two_lines_instead_of_tiny_type(tmp_path: Path, recorders: list[Recorder]) -> None:
    """A name of eighty letters stays whole and above five points on a label of 70 x 37 mm."""
    job = "Upper-gallery and winter garden north-west corner above the stair of the yard"
    pieces = tuple(replace(piece, job=job) for piece in PLAN.pieces)
    plan = replace(PLAN, pieces=pieces)
    write_piece_labels(tmp_path / "l.pdf", plan, BothUnits(), PageSize.A4, LabelGrid.filling(PageSize.A4))
    printed = next(p for p in recorders[0].printed if p.text == f"job {job}")
    assert len(printed.fitted.lines) == 2
    assert printed.fitted.size > 5
    assert "…" not in "".join(printed.fitted.lines)
