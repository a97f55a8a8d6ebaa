"""A reader of codes that knows ISO/IEC 18004 and nothing of how ours are made."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

# ISO/IEC 18004:2015, table 10, with i the row and j the column; dark where the remainder is 0.
MASKS: tuple[Callable[[int, int], int], ...] = (
    lambda i, j: (i + j) % 2,
    lambda i, j: i % 2,
    lambda i, j: j % 3,
    lambda i, j: (i + j) % 3,
    lambda i, j: (i // 2 + j // 3) % 2,
    lambda i, j: i * j % 2 + i * j % 3,
    lambda i, j: (i * j % 2 + i * j % 3) % 2,
    lambda i, j: ((i + j) % 2 + i * j % 3) % 2,
)


def scanned(rows: Sequence[bytes]) -> str:
    """Read the bytes of an undamaged symbol of version 1 to 3 at level M, which has one block."""
    side = len(rows)
    mask = MASKS[_mask_number(rows)]
    bits = [rows[i][j] ^ (mask(i, j) == 0) for i, j in _walk(side)]
    assert _number(bits[:4]) == 0b0100, "not in byte mode"
    count = _number(bits[4:12])
    read = bytes(_number(bits[at : at + 8]) for at in range(12, 12 + 8 * count, 8))
    return read.decode("ascii")


def _mask_number(rows: Sequence[bytes]) -> int:
    """Read level and mask beside the upper left eye; 7.9.1: five bits of 15, all turned by a pattern."""
    first = _number(rows[8][:5]) ^ 0b10101
    assert first >> 3 == 0b00, "not level M"
    return first & 0b111


def _walk(side: int) -> Iterator[tuple[int, int]]:
    """Give the modules of data in their order (7.7.3): pairs of columns from the right, up and down."""
    up = True
    for right in (column for column in range(side - 1, 0, -2) if column > 6):
        yield from _pair(side, right, up)
        up = not up
    for right in (5, 3, 1):
        yield from _pair(side, right, up)
        up = not up


def _pair(side: int, right: int, up: bool) -> Iterator[tuple[int, int]]:
    for i in reversed(range(side)) if up else range(side):
        for j in (right, right - 1):
            if not _function(side, i, j):
                yield i, j


def _function(side: int, i: int, j: int) -> bool:
    """Whether a module belongs to eyes, formats, timing or the alignment pattern."""
    eyes = (i < 9 and j < 9) or (i < 9 and j >= side - 8) or (i >= side - 8 and j < 9)
    # From version 2 on one alignment pattern, its heart seven modules from the lower right.
    alignment = side > 21 and abs(i - (side - 7)) <= 2 and abs(j - (side - 7)) <= 2
    return eyes or alignment or i == 6 or j == 6


def _number(bits: Sequence[int]) -> int:
    return int("".join(str(int(bit)) for bit in bits), 2)
