"""Tables on paper."""

from __future__ import annotations

from pathlib import Path

from nesting.paper.faces import Face
from nesting.paper.flow import Following, Section, Space, Stack, paginate
from nesting.paper.hatching import Box
from nesting.paper.page_size import PageSize
from nesting.paper.tables import FIELD, TICK, Column, Heading, Row, Title, row_of, rows_of
from tests.paper.recording import Recorder

COLUMNS = (Column("got", 0.2), Column("tag", 0.5), Column("measured", 0.3))


def surface(tmp_path: Path) -> Recorder:
    """Give a recorder of its own."""
    Recorder.made = []
    return Recorder(tmp_path / "t.pdf", PageSize.A4, "t")


def test_a_title_keeps_its_headings_and_its_first_row() -> None:
    """No heading stands alone at the foot of a page."""
    blocks = rows_of(Title("Offcuts"), COLUMNS, [(TICK, "OC-1", FIELD), (TICK, "OC-2", FIELD)])
    assert isinstance(blocks[0], Stack)
    assert [type(block) for block in blocks[0].blocks[1:]] == [Heading, Row]
    assert len(blocks) == 2


def test_a_table_that_goes_on_has_its_title_and_headings_again(tmp_path: Path) -> None:
    """The second page of a list of caps says that these are caps, and which column counts them."""
    blocks = rows_of(Title("Caps, 90 in all"), COLUMNS, [("1", f"cap {n}", "") for n in range(9)], height=30)
    (_, first), (_, second), *_ = paginate((Section((), blocks),), 150)
    for page, title in ((first, "Caps, 90 in all"), (second, "Caps, 90 in all, continued")):
        paper = surface(tmp_path)
        for block in page:
            block.draw(paper, Box(10, 10, 190, block.height))
        assert paper.texts[: 1 + len(COLUMNS)] == [title, "got", "tag", "measured"]


def test_what_belongs_under_a_table_stays_with_its_last_row() -> None:
    """The meaning of the columns is not left alone on the next page."""
    meaning = Space(11)
    one = rows_of(Title("Metal"), COLUMNS, [("a", "b", "")], below=meaning)
    two = rows_of(Title("Metal"), COLUMNS, [("a", "b", ""), ("c", "d", "")], below=meaning)
    (only,), (_, last) = one, two
    assert isinstance(only, Stack)
    assert isinstance(last, Following)
    for block in (only.blocks[-1], last.block):
        assert isinstance(block, Stack)
        assert isinstance(block.blocks[0], Row)
        assert block.blocks[1] is meaning


def test_no_rows_no_table() -> None:
    """An empty table leaves no title behind."""
    assert rows_of(Space(1), COLUMNS, []) == ()


def test_cells_lie_in_their_columns(tmp_path: Path) -> None:
    """A box to tick, a text, a box to write in: each within its column of 20, 50 and 30 mm."""
    paper = surface(tmp_path)
    Row(COLUMNS, (TICK, "OC-1", FIELD)).draw(paper, Box(10, 10, 100, 9))
    (tick, field) = (box for _, box, _ in paper.framed)
    assert tick.width == tick.height
    assert 10 <= tick.x < tick.right <= 30
    assert 80 <= field.x < field.right <= 110
    assert [(p.text, 30 <= p.box.x < p.box.right <= 80) for p in paper.printed] == [("OC-1", True)]


def test_a_loud_row_is_white_on_black(tmp_path: Path) -> None:
    """An incomplete unit stands out; its box to tick stays white."""
    paper = surface(tmp_path)
    Row(COLUMNS, (TICK, "OC-1", ""), loud=True).draw(paper, Box(10, 10, 100, 9))
    assert paper.framed[0][2] == 0
    assert paper.framed[1][2] == 1
    assert paper.printed[0].white


def test_a_loud_row_grows_like_any_other(tmp_path: Path) -> None:
    """An incomplete unit with a long name is not printed smaller than a complete one."""
    columns = (Column("unit", 0.3, 14, Face.BOLD), Column("pieces", 0.7))
    name = "Gatehouse and porter's lodge, upper storey, the rooms towards the river"
    row = row_of(columns, (name, "4"), 10.0, loud=True)
    assert row.loud
    assert row.height > 10.0


def test_a_long_name_makes_its_row_higher_not_its_type_smaller(tmp_path: Path) -> None:
    """A job's name of 120 letters is read as easily as one of ten."""
    name = (
        "Orrelbeck Yard, north wing, second stair, lobby and lift landing, all floors above the arcade " * 2
    )
    columns = (Column("job", 0.4, 10.5), Column("pieces", 0.6))
    stack, second = rows_of(Space(1), columns, [(name, "4"), ("OY", "4")], height=8.0)
    assert isinstance(stack, Stack)
    row = stack.blocks[-1]
    assert row.height > second.height == 8.0
    paper = surface(tmp_path)
    row.draw(paper, Box(10, 10, 190, row.height))
    assert paper.printed[0].fitted.size >= 8.0
    assert "…" not in "".join(paper.printed[0].fitted.lines)
