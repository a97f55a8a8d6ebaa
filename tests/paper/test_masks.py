"""The choice of a code's mask."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby, pairwise

import pytest
import segno

from nesting.paper.masks import Symbol, best_masked

CONTENTS = ("OY-1 7c", "OY-305-2 7c1f2e90ab34", "WK-12/3 000000000000", "A" * 40)


def all_masks(content: str) -> list[tuple[bytes, ...]]:
    """Give the symbol under each of the eight masks, as the writer of codes makes them."""
    return [
        tuple(bytes(row) for row in segno.make_qr(content, error="m", boost_error=False, mask=mask).matrix)
        for mask in range(8)
    ]


def counted(rows: Sequence[bytes]) -> int:
    """Count penalty points module by module (ISO/IEC 18004:2015, table 11)."""
    side, points = len(rows), 0
    for line in (*rows, *(bytes(column) for column in zip(*rows, strict=True))):
        runs = (len(tuple(same)) for _, same in groupby(line))
        points += sum(3 + run - 5 for run in runs if run >= 5)
        wide = bytes(4) + line + bytes(4)
        for at in range(4, len(wide) - 4):
            beside = (wide[at - 4 : at], wide[at + 7 : at + 11])
            points += 40 * (wide[at : at + 7] == b"\1\0\1\1\1\0\1" and bytes(4) in beside)
    for upper, lower in pairwise(rows):
        for j in range(side - 1):
            points += 3 * (len({*upper[j : j + 2], *lower[j : j + 2]}) == 1)
    share = 100 * sum(map(sum, rows)) / side**2
    return points + 10 * int(abs(share - 50) // 5)


@pytest.mark.parametrize("content", CONTENTS)
def test_penalty_points_are_those_counted_module_by_module(content: str) -> None:
    """Shifting whole symbols counts what loops count."""
    for rows in all_masks(content):
        assert Symbol.of(rows).penalty == counted(rows)


@pytest.mark.parametrize(
    ("rows", "points"),
    [
        # every row and column a run of 5 (10 x 3), 4 x 4 squares (16 x 3), 50 % too dark (10 x 10)
        ((b"\1" * 5,) * 5, 30 + 48 + 100),
        # the same in light
        ((b"\0" * 5,) * 5, 30 + 48 + 100),
        # a chessboard has no runs and no squares; 13 of 25 dark are 52 %, less than 5 too many
        ((b"\1\0\1\0\1", b"\0\1\0\1\0") * 2 + (b"\1\0\1\0\1",), 0),
    ],
)
def test_penalty_points_of_plain_squares(rows: tuple[bytes, ...], points: int) -> None:
    """Worked by hand from the table."""
    assert Symbol.of(rows).penalty == points


@pytest.mark.parametrize("content", CONTENTS)
def test_the_mask_of_fewest_points_is_taken(content: str) -> None:
    """The symbol is one of the eight, and none of them is easier to scan."""
    masked = all_masks(content)
    version = (len(masked[0]) - 17) // 4  # a version more is four modules more
    chosen = best_masked(masked[0], version)
    assert chosen in masked
    assert counted(chosen) == min(map(counted, masked))


def test_a_symbol_gives_back_its_rows() -> None:
    """Nothing is lost between rows and numbers, light first rows included."""
    rows = (b"\0\0\0", b"\1\0\1", b"\0\1\0")
    assert Symbol.of(rows).rows == rows
