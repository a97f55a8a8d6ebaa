"""The code of a label."""

from __future__ import annotations

import pytest

from nesting.paper.codes import code_rows, code_text
from tests.paper.scanning import scanned


@pytest.mark.parametrize("unit", range(101, 125))
def test_a_scanner_reads_the_text(unit: int) -> None:
    """What comes out of the symbol is what stands beside it, whichever mask was taken."""
    text = code_text(f"OY-{unit}-2", "7c1f2e90ab34")
    rows = code_rows(text)
    assert rows is not None
    assert scanned(rows) == text


def test_a_code_is_square_and_has_its_three_eyes() -> None:
    """ISO/IEC 18004: a 7 x 7 finder in three corners, dark ring, light ring, dark heart."""
    rows = code_rows(code_text("OY-305-2", "7c1f2e90ab34"))
    assert rows is not None
    size = len(rows)
    assert {len(row) for row in rows} == {size}
    # 21 characters as bytes need version 2 at level M (26 bytes): 25 modules a side
    assert size == 25
    ring = bytes([1, 1, 1, 1, 1, 1, 1])
    for top, left in ((0, 0), (0, size - 7), (size - 7, 0)):
        assert rows[top][left : left + 7] == ring
        assert rows[top + 3][left : left + 7] == bytes([1, 0, 1, 1, 1, 0, 1])
    assert rows[size - 7][size - 7 :] != ring


def test_different_pieces_have_different_codes() -> None:
    """No two labels of a plan scan the same."""
    assert code_rows(code_text("OY-305-2", "7c")) != code_rows(code_text("OY-305-3", "7c"))


def test_what_no_label_can_hold_has_no_code() -> None:
    """Neither a code too fine to scan nor one beyond the standard's largest is drawn."""
    assert code_rows("x" * 400) is None
    assert code_rows("x" * 4000) is None


def test_the_content_is_plain_text() -> None:
    """Any reader shows what a person would read."""
    assert code_text("OY-305-2", "7c1f2e90ab34") == "OY-305-2 7c1f2e90ab34"
