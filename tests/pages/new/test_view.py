"""A list is shown row by row with what was noticed beside each cell."""

from __future__ import annotations

from pathlib import Path

import openpyxl
import pytest

from api.catalogue.contents import Contents
from api.pages.new import rows, view
from api.pages.new.choices import understood
from api.pages.new.drafts import Corrected, Draft
from api.pages.new.reading import Reading
from api.pages.new.rows import Show
from api.pages.new.view import DraftView, draft_view, row_places, standing_texts
from nesting.errors import Severity, Where
from nesting.sheets.read_report import Verdict
from nesting.sheets.read_request import read_list
from nesting.units import mm

LIST = (
    "Run,Quantity,Length (mm),Family,Finish\n"
    "A-1,2,12oo,TOLV-17N,natural\n"
    "A-2,1,900,TOLV-17N,natural\n"
    "Total,3,,,\n"
    "A-3,1,700,TOLV-17N,natural\n"
)


class Lists:
    """Reads lists in a folder as the page would."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder

    def __call__(
        self,
        text: str = LIST,
        *,
        corrections: tuple[Corrected, ...] = (),
        choices: dict[str, str] | None = None,
        show: Show | None = None,
        page: int = 1,
        opened: str = "",
    ) -> DraftView:
        path = self._folder / "list.csv"
        path.write_text(text)
        return self.read(path, corrections=corrections, choices=choices, show=show, page=page, opened=opened)

    def read(
        self,
        path: Path,
        *,
        corrections: tuple[Corrected, ...] = (),
        choices: dict[str, str] | None = None,
        show: Show | None = None,
        page: int = 1,
        opened: str = "",
    ) -> DraftView:
        draft = Draft(
            id="0" * 32,
            name=path.name,
            body=path.read_bytes(),
            corrections=corrections,
            choices={"bars": "6000 mm"} | (choices or {}),
            made_at=1,
            made_by="this machine",
            version=1,
            plan_id=None,
            planned=False,
        )
        chosen = understood(draft.choices, draft.typed)
        self.outcome = read_list(path, options=chosen.options)
        return draft_view(
            draft, Reading(Contents(), chosen, self.outcome), show=show, page=page, opened=opened
        )


@pytest.fixture
def lists(tmp_path: Path) -> Lists:
    """Give a reader of lists."""
    return Lists(tmp_path)


def test_every_row_stands_with_its_cells_and_its_reading(lists: Lists) -> None:
    """The list's own texts and what became of them, side by side."""
    (table,) = lists().tables
    assert table.headings is not None
    assert [cell.text for cell in table.headings.cells] == [
        "Run",
        "Quantity",
        "Length (mm)",
        "Family",
        "Finish",
    ]
    assert [(line.number, line.verdict) for line in table.lines] == [
        (2, Verdict.ASK),
        (3, Verdict.OK),
        (4, Verdict.SKIP),
        (5, Verdict.OK),
    ]
    wrong, read = table.lines[:2]
    assert [cell.text for cell in wrong.cells] == ["A-1", "2", "12oo", "TOLV-17N", "natural"]
    assert [cell.marked for cell in wrong.cells] == [False, False, True, False, False]
    assert wrong.length is None
    assert (read.id, read.quantity, read.length) == ("A-2", 1, mm(900))


def test_what_is_wrong_in_a_cell_stands_at_its_row(lists: Lists) -> None:
    """With the cell's own text, ready to be corrected; nowhere else a second time."""
    made = lists()
    (said,) = [one for one in made.tables[0].lines[0].said if one.severity.refuses]
    assert (said.where, said.text, said.severity) == (Where("list.csv", "C2"), "12oo", Severity.ERROR)
    assert said not in made.elsewhere
    assert made.to_settle == 1
    assert (made.counts[Verdict.ASK], made.counts[Verdict.SKIP]) == (1, 1)


def test_what_every_row_takes_is_said_once(lists: Lists) -> None:
    """The file's name for a job, on all rows: not four times on the page."""
    made = lists(LIST.replace("12oo", "1200"))
    assert any(words.startswith("job: 'list'") for words in made.defaults)
    assert all(not line.defaults for line in made.tables[0].lines)


def test_allowances_of_the_saw_are_told_at_their_fields(lists: Lists) -> None:
    """Not in a list of remarks as well; one that is typed is not taken from common practice."""
    made = lists(choices={"kerf": "4 mm"})
    assert "default-kerf" not in made.saw_taken
    assert "default-grip" in made.saw_taken
    assert not any(one.code in view.SAW_DEFAULTS for one in made.elsewhere)


def test_a_fault_in_a_setting_counts_among_what_is_to_be_settled(lists: Lists) -> None:
    """Else the page would say that all is well and not start."""
    made = lists(LIST.replace("12oo", "1200"), choices={"kerf": "thin"})
    assert made.to_settle == 1


def test_a_corrected_cell_shows_what_it_was(lists: Lists) -> None:
    """The file's own text stays in sight."""
    corrected = (Corrected(Where("list.csv", "C2"), "1200", "12oo"),)
    (table,) = lists(corrections=corrected).tables
    cell = table.lines[0].cells[2]
    assert (cell.text, cell.was, table.lines[0].length) == ("1200", "12oo", mm(1200))
    assert table.lines[1].cells[2].was is None


def test_rows_can_be_narrowed_to_what_is_to_be_settled(lists: Lists) -> None:
    """And are at once when the list is longer than a page."""
    settle = lists(show=Show.SETTLE)
    assert [line.number for line in settle.tables[0].lines] == [2]
    assert settle.rows == 1
    assert lists().show is Show.ALL


def test_a_long_list_begins_with_what_is_to_be_settled(lists: Lists, monkeypatch: pytest.MonkeyPatch) -> None:
    """Two rows a page make four rows two pages; a page too far is the last one."""
    monkeypatch.setattr(view, "ROWS_A_PAGE", 2)
    assert lists().show is Show.SETTLE
    last = lists(show=Show.ALL, page=9)
    assert (last.page, last.pages, last.rows) == (2, 2, 4)
    assert [line.number for line in last.tables[0].lines] == [4, 5]


def test_what_is_found_only_in_the_whole_list_weighs_on_its_row(lists: Lists) -> None:
    """An id given twice is noticed when all rows are read; its row is not shown as read then."""
    made = lists(LIST.replace("12oo", "1200").replace("A-3", "A-2"))
    marked = [line.number for line in made.tables[0].lines if line.verdict is Verdict.ASK]
    assert marked
    assert made.to_settle
    assert made.counts[Verdict.ASK] == len(marked)


def test_an_opened_row_is_the_one_that_was_named(lists: Lists) -> None:
    """Row 3 of this sheet and of no other."""
    lines = lists(opened="list.csv!3").tables[0].lines
    assert [line.number for line in lines if line.open] == [3]
    assert not any(line.open for line in lists(opened="Stock!3").tables[0].lines)


def test_cells_of_a_row_are_found_by_its_name(lists: Lists) -> None:
    """To leave a row out, every filled cell of it is emptied."""
    lists()
    sheets = lists.outcome.sheets
    assert [where.at for where in row_places(sheets, "list.csv!4")] == ["A4", "B4"]
    assert row_places(sheets, "list.csv!99") == row_places(sheets, "") == row_places(sheets, "Stock!4") == ()
    assert standing_texts(sheets)[Where("list.csv", "C2")] == "12oo"


def test_a_row_without_a_cell_has_no_number(lists: Lists) -> None:
    """A JSON request's lines come from no sheet."""
    lists()
    row = lists.outcome.echo.rows[0]
    assert rows.row_number(row) == 2
    assert rows.common_defaults((row,)) == ()


def test_a_list_without_headings_shows_how_it_begins(lists: Lists) -> None:
    """Somebody who forgot the headings can write them where they belong."""
    made = lists("305-1,2,920\n305-2,1,700\n", opened="list.csv!1")
    (table,) = made.tables
    assert (table.headings, made.rows, made.to_settle) == (None, 0, 1)
    assert [[cell.text for cell in line.cells] for line in table.lines] == [
        ["305-1", "2", "920"],
        ["305-2", "1", "700"],
    ]
    assert [(line.verdict, line.open) for line in table.lines] == [(None, True), (None, False)]


def test_a_merged_cell_is_shown_in_every_row_it_lends_itself_to(lists: Lists, tmp_path: Path) -> None:
    """Unit 305 spans three rows, and is read in all of them; the row below it has none."""
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.title = "Runs"
    sheet.append(["Unit", "Run", "Quantity", "Length (mm)", "Family", "Finish"])
    for unit, run in (("305", "A-1"), (None, "A-2"), (None, "A-3"), ("306", "A-4")):
        sheet.append([unit, run, 1, 900, "TOLV-17N", "natural"])
    sheet.merge_cells("A2:A4")
    path = tmp_path / "list.xlsx"
    book.save(path)
    (table,) = lists.read(path).tables
    assert [(line.cells[0].text, line.cells[0].lent) for line in table.lines] == [
        ("305", ""),
        ("", "305"),
        ("", "305"),
        ("306", ""),
    ]
