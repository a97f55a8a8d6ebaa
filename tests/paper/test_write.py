"""All the paper of a plan."""

from __future__ import annotations

import shutil
import subprocess
from collections import Counter
from collections.abc import Callable
from pathlib import Path

import pytest

from nesting.domain.plan import Plan
from nesting.errors import ProblemError
from nesting.paper import LabelGrid, PageSize, write_paper
from nesting.reports.papers import Paper
from nesting.units import Unit
from tests.paper.plans import crowded_plan, gang_plan, mitred_plan, small_parts_plan, wild_plan
from tests.paper.recording import Printed, Recorder, overlap
from tests.reports.plans import empty_plan, example_plan

ALL = [
    "purchase-summary.pdf",
    "pick-list.pdf",
    "cut-sheets.pdf",
    "piece-labels.pdf",
    "offcut-labels.pdf",
    "pack-lists.pdf",
]
PLANS = [example_plan, gang_plan, mitred_plan, small_parts_plan, wild_plan, crowded_plan]


def test_every_document_with_something_to_say_is_written(tmp_path: Path) -> None:
    """A plan with offcuts used and born has all six."""
    written = write_paper(example_plan(), tmp_path / "new" / "folder")
    assert [path.name for path in written] == ALL
    assert all(path.read_bytes().startswith(b"%PDF") for path in written)


def test_what_has_nothing_to_say_is_not_written_and_an_old_one_goes(tmp_path: Path) -> None:
    """No pick list without offcuts, and none of an earlier plan beside the new cut sheets."""
    write_paper(example_plan(), tmp_path)
    written = write_paper(gang_plan(), tmp_path)
    assert [path.name for path in written] == [
        n for n in ALL if n not in ("pick-list.pdf", "offcut-labels.pdf")
    ]
    assert sorted(tmp_path.iterdir()) == sorted(written)
    assert write_paper(empty_plan(), tmp_path) == ()
    assert list(tmp_path.iterdir()) == []


def test_one_paper_alone_is_the_same_as_among_all(tmp_path: Path) -> None:
    """Whoever asks for the pick list gets that, and nothing else is printed for it."""
    write_paper(example_plan(), tmp_path / "all")
    written = write_paper(example_plan(), tmp_path / "one", only=(Paper.PICK_LIST,))
    assert list((tmp_path / "one").iterdir()) == list(written) == [tmp_path / "one" / "pick-list.pdf"]
    assert written[0].read_bytes() == (tmp_path / "all" / "pick-list.pdf").read_bytes()


def test_small_parts_come_before_packing_and_go_with_the_plan_that_had_them(tmp_path: Path) -> None:
    """The bag is filled before the box is closed; an older plan's counts are not left beside a new one."""
    written = [path.name for path in write_paper(small_parts_plan(), tmp_path)]
    assert written[-2:] == ["small-parts.pdf", "pack-lists.pdf"]
    write_paper(gang_plan(), tmp_path)
    assert not (tmp_path / "small-parts.pdf").exists()


def test_other_files_of_the_folder_stay(tmp_path: Path) -> None:
    """Only our own names are replaced or removed."""
    (tmp_path / "notes.pdf").write_text("mine")
    write_paper(empty_plan(), tmp_path)
    assert (tmp_path / "notes.pdf").read_text() == "mine"


def test_the_same_plan_gives_the_same_bytes(tmp_path: Path) -> None:
    """Two prints of one plan are one print."""
    first, second = write_paper(example_plan(), tmp_path / "a"), write_paper(example_plan(), tmp_path / "b")
    assert [path.read_bytes() for path in first] == [path.read_bytes() for path in second]


def test_labels_for_other_paper_are_refused_before_anything_is_written(tmp_path: Path) -> None:
    """A grid of A4 labels on Letter is named, and the folder stays as it was."""
    with pytest.raises(ProblemError, match="Letter"):
        write_paper(example_plan(), tmp_path, page=PageSize.LETTER, labels=LabelGrid.filling(PageSize.A4))
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("make", PLANS)
@pytest.mark.parametrize(("unit", "page"), [(Unit.MM, PageSize.A4), (Unit.INCH, PageSize.LETTER)])
def test_no_text_leaves_its_box_or_touches_another(
    tmp_path: Path, recorders: list[Recorder], make: Callable[[], Plan], unit: Unit, page: PageSize
) -> None:
    """However long or foreign the names, every text is readable by itself and on the page."""
    write_paper(make(), tmp_path, unit=unit, page=page)
    assert recorders
    for recorder in recorders:
        by_page: dict[int, list[Printed]] = {}
        for printed in recorder.printed:
            assert printed.fitted.width <= printed.box.width + 1e-3, printed
            assert printed.fitted.height <= printed.box.height + 1e-3, printed
            by_page.setdefault(printed.page, []).append(printed)
        for texts in by_page.values():
            inks = [ink for printed in texts for ink in printed.ink]
            for number, ink in enumerate(inks):
                assert ink.x >= 3
                assert ink.y >= 3
                assert ink.right <= page.width - 3
                assert ink.bottom <= page.height - 3
                assert not any(overlap(ink, other) for other in inks[:number]), (
                    recorder.printed[0].text,
                    ink,
                )


@pytest.mark.parametrize("make", PLANS)
def test_white_letters_stand_on_black(
    tmp_path: Path, recorders: list[Recorder], make: Callable[[], Plan]
) -> None:
    """A warning in white on white paper would be no warning."""
    write_paper(make(), tmp_path)
    for recorder in recorders:
        plates = [(page, box) for page, box, fill in recorder.framed if fill == 0]
        for printed in recorder.printed:
            for ink in printed.ink if printed.white else ():
                assert any(
                    page == printed.page
                    and box.x <= ink.x
                    and ink.right <= box.right
                    and box.y <= ink.y + ink.height / 2 <= box.bottom
                    for page, box in plates
                ), printed


@pytest.mark.parametrize("make", PLANS)
def test_every_piece_is_on_one_line_and_one_label(
    tmp_path: Path, recorders: list[Recorder], make: Callable[[], Plan]
) -> None:
    """Each piece is cut once, labelled once and packed once."""
    plan = make()
    write_paper(plan, tmp_path)
    placed = Counter(cut.piece for group in plan.groups for bar in group.bars for cut in bar.cuts)
    assert set(placed.values()) == {1}
    names = [Path(recorder._canvas._filename).name for recorder in recorders]  # noqa: SLF001
    for name in ("cut-sheets.pdf", "piece-labels.pdf", "pack-lists.pdf"):
        said = Counter(recorders[names.index(name)].texts)
        assert {piece: said[piece] for piece in placed} == placed


@pytest.mark.skipif(shutil.which("pdftotext") is None, reason="pdftotext (poppler) is not installed")
def test_the_files_themselves_say_it(tmp_path: Path) -> None:
    """What a person searches for in the file is found there: ids, tags, page counts."""
    write_paper(example_plan(), tmp_path)
    said = {name: _text(tmp_path / name) for name in ALL}
    assert "OY-304-7/2" in said["cut-sheets.pdf"]
    assert "page 1 of" in said["cut-sheets.pdf"]
    assert "OC-0112" in said["pick-list.pdf"]
    assert "7C1F-3" in said["offcut-labels.pdf"]
    assert "165.20 XTS" in said["purchase-summary.pdf"]
    assert "OY-405" in said["pack-lists.pdf"]


def _text(path: Path) -> str:
    found = subprocess.run(
        ["pdftotext", "-layout", str(path), "-"], capture_output=True, text=True, check=True
    )
    return found.stdout.replace("\N{NO-BREAK SPACE}", " ")
