from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nesting.domain.plan import Cut, PlannedBar, TailFate
from nesting.reports.bar_picture import Segment, SegmentKind, bar_segments, cells_of
from nesting.units import NO_LENGTH, Length, mm
from tests.reports.plans import example_plan


def four_of_610() -> PlannedBar:
    """Give the textbook bar: 2500, h = e = 8, k 3, 4 x 610: 8 + 2440 + 12 + 40 = 2500."""
    return PlannedBar(
        number=1,
        source="stock:0",
        offcut=False,
        length=mm(2500),
        head=mm(8),
        tail_loss=mm(8),
        # Faces from the first clean face: 610 j + 3 (j - 1).
        cuts=tuple(Cut(f"P{j}", mm(610), mm(610 * j + 3 * (j - 1))) for j in (1, 2, 3, 4)),
        strokes=5,
        kerf_loss=mm(12),
        tail=mm(40),
        fate=TailFate.SCRAP,
    )


def test_every_stretch_of_a_bar_is_where_the_saw_makes_it() -> None:
    """Positions on the bar are the head trim plus the faces, strokes between them."""
    found = [(s.kind.value, s.start // 10**6, s.end // 10**6) for s in bar_segments(four_of_610())]
    assert found == [
        ("trim", 0, 8),
        ("piece", 8, 618),
        ("kerf", 618, 621),
        ("piece", 621, 1231),
        ("kerf", 1231, 1234),
        ("piece", 1234, 1844),
        ("kerf", 1844, 1847),
        ("piece", 1847, 2457),
        ("kerf", 2457, 2460),
        ("scrap", 2460, 2500),
    ]


def test_labels_name_pieces_by_cut_and_offcuts_by_tag() -> None:
    """The picture leads back to the list: cut numbers from 1, the tag on a tail that is kept."""
    bar = next(b for g in example_plan().groups for b in g.bars if b.number == 3)
    named = [(s.order, s.label) for s in bar_segments(bar) if s.label]
    assert named == [(1, "OY-304-7/3"), (2, "OY-305-8.2"), (0, "7C1F-3")]


@pytest.mark.parametrize("number", range(1, 20))
def test_stretches_cover_the_bar_without_gaps(number: int) -> None:
    """Whatever the bar (offcut, sliver, kept tail), its picture is exactly as long as the bar."""
    bar = next(b for g in example_plan().groups for b in g.bars if b.number == number)
    segments = bar_segments(bar)
    assert segments[0].start == 0
    assert segments[-1].end == bar.length
    assert all(a.end == b.start for a, b in pairwise(segments))
    assert sum(s.length for s in segments if s.kind is SegmentKind.KERF) == bar.kerf_loss


def test_an_exact_end_has_no_stroke_behind_the_last_piece() -> None:
    """4 x 497.75 and three strokes are 2000: nothing is sawn off the last piece."""
    length = mm("497.75")
    cuts = tuple(Cut(f"P{j}", length, Length(j * length + (j - 1) * mm(3))) for j in (1, 2, 3, 4))
    bar = PlannedBar(
        number=1,
        source="OC-1",
        offcut=True,
        length=mm(2000),
        head=NO_LENGTH,
        tail_loss=NO_LENGTH,
        cuts=cuts,
        strokes=3,
        kerf_loss=mm(9),
        tail=NO_LENGTH,
        fate=TailFate.NONE,
    )
    kinds = [s.kind.value for s in bar_segments(bar)]
    assert kinds == ["piece", "kerf", "piece", "kerf", "piece", "kerf", "piece"]


def test_cells_are_in_proportion_and_kerfs_are_lines() -> None:
    """8 + 4 x 610 + 40 on 120 cells: trim and scrap are never lost, pieces are alike within a cell."""
    widths = cells_of(bar_segments(four_of_610()), 120)
    # 610 of the 2488 mm drawn is 29.4 of 120 cells, 40 mm is 1.9; the trim's 0.4 is raised to the one it
    # needs. The cell that is left goes to the first of the equal pieces.
    assert widths == (1, 30, 0, 29, 0, 29, 0, 29, 0, 2)


def test_kerf_cells_are_taken_from_the_row() -> None:
    """On a terminal each stroke is one character of the bar's own width."""
    widths = cells_of(bar_segments(four_of_610()), 60, kerf_cells=1)
    assert (sum(widths), widths[2::2]) == (60, (1, 1, 1, 1))


def test_more_stretches_than_cells_still_fill_the_row() -> None:
    """A bar of very many short pieces is drawn coarsely, not refused."""
    segments = [Segment(SegmentKind.PIECE, mm(10 * i), mm(10 * i + 10)) for i in range(50)]
    widths = cells_of(segments, 20, kerf_cells=1)
    assert (sum(widths), max(widths)) == (20, 1)


@given(st.lists(st.integers(1, 10**10), min_size=1, max_size=12), st.integers(1, 200))
def test_no_stretch_is_drawn_a_cell_off(lengths: list[int], cells: int) -> None:
    """A width is within one cell of the truth, unless somebody needed a first cell."""
    starts = [sum(lengths[:i]) for i in range(len(lengths))]
    segments = [
        Segment(SegmentKind.PIECE, Length(at), Length(at + length))
        for at, length in zip(starts, lengths, strict=True)
    ]
    widths = cells_of(segments, cells)
    total = sum(lengths)
    assert sum(widths) == cells
    if all(length * cells >= total for length in lengths):
        assert all(abs(w * total - length * cells) < total for w, length in zip(widths, lengths, strict=True))
    if len(lengths) <= cells:
        assert min(widths) >= 1
