"""Tables on paper."""

from __future__ import annotations

from pathlib import Path

from nesting.paper.flow import Space, Stack
from nesting.paper.hatching import Box
from nesting.paper.page_size import PageSize
from nesting.paper.tables import FIELD, TICK, Column, Heading, Row, heading, rows_of
from tests.paper.recording import Recorder

COLUMNS = (Column("got", 0.2), Column("tag", 0.5), Column("measured", 0.3))


def surface(tmp_path: Path) -> Recorder:
    """Give a recorder of its own."""
    Recorder.made = []
    return Recorder(tmp_path / "t.pdf", PageSize.A4, "t")


def test_a_title_keeps_its_headings_and_its_first_row() -> None:
    """No heading stands alone at the foot of a page."""
    blocks = rows_of(heading("Offcuts"), COLUMNS, [(TICK, "OC-1", FIELD), (TICK, "OC-2", FIELD)])
    assert isinstance(blocks[0], Stack)
    assert [type(block) for block in blocks[0].blocks[1:]] == [Heading, Row]
    assert len(blocks) == 2


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
