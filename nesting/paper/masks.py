"""The mask of a code: the one of eight that leaves a scanner least to stumble over."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from itertools import chain, repeat

import segno

# Light modules between the rows of a symbol, so that no run and no eye reaches from one row into the next.
_GAP = 4
_MASKS = 8
_DIGITS = bytes.maketrans(b"\x00\x01", b"01")
_MODULES = bytes.maketrans(b"01", b"\x00\x01")
# The eye 1011101 with four light modules on one side, as the places of its dark and its light modules.
_EYE = (0, 2, 3, 4, 6)
_BESIDE_EYE = ((1, 5, 7, 8, 9, 10), (1, 5, -1, -2, -3, -4))


@dataclass(frozen=True, slots=True)
class Symbol:
    """
    The modules of a symbol as two whole numbers, one bit a module: what loops would count, shifts count.

    Parameters
    ----------
    side
        Modules a side.
    across, down
        Its rows one behind the other, and its columns; 1 for dark.
    """

    side: int
    across: int
    down: int

    @classmethod
    def of(cls, rows: Sequence[bytes]) -> Symbol:
        """Read a square of rows, 1 for dark."""
        return cls(len(rows), _joined(rows), _joined(tuple(map(bytes, zip(*rows, strict=True)))))

    @property
    def rows(self) -> tuple[bytes, ...]:
        """Give the square of rows, 1 for dark."""
        step = self.side + _GAP
        digits = f"{self.across:0{self.side * step}b}".encode().translate(_MODULES)
        return tuple(digits[at : at + self.side] for at in range(0, self.side * step, step))

    def changed(self, change: Symbol) -> Symbol:
        """Give the symbol with the dark modules of another one turned over."""
        return Symbol(self.side, self.across ^ change.across, self.down ^ change.down)

    @property
    def penalty(self) -> int:
        """
        Give the points of ISO/IEC 18004:2015, 7.8.3.1, table 11; fewer are easier to scan.

        Long runs and blocks of one colour, what looks like the eye of a corner, too much of one colour.
        """
        paper = _paper(self.side)
        dark = self.across.bit_count()
        points = 10 * (abs(20 * dark - 10 * self.side**2) // self.side**2)
        for bits in (self.across, self.down):
            points += _runs(bits) + _runs(bits ^ paper) + 40 * _eyes(bits)
        step = self.side + _GAP
        return points + 3 * (_blocks(self.across, step) + _blocks(self.across ^ paper, step))


def best_masked(rows: Sequence[bytes], version: int) -> tuple[bytes, ...]:
    """
    Give a symbol under the mask of fewest penalty points, counted on the finished symbol.

    The writer of codes can choose the mask itself, but takes five times as long as for all the rest.

    Parameters
    ----------
    rows
        The symbol under mask 0, error correction M.
    version
        Its version by the standard, which is its size.
    """
    plain = Symbol.of(rows)
    return min((plain.changed(change) for change in _changes(version)), key=lambda one: one.penalty).rows


@cache
def _changes(version: int) -> tuple[Symbol, ...]:
    """Give which modules each mask turns over against mask 0; what is written plays no part in that."""
    codes = (
        segno.make_qr("", error="m", boost_error=False, version=version, mask=mask) for mask in range(_MASKS)
    )
    plain, *others = (Symbol.of(tuple(bytes(row) for row in code.matrix)) for code in codes)
    return (plain.changed(plain), *(plain.changed(other) for other in others))


def _joined(rows: Sequence[bytes]) -> int:
    gap = b"0" * _GAP
    return int(b"".join(chain.from_iterable(zip((row.translate(_DIGITS) for row in rows), repeat(gap)))), 2)


@cache
def _paper(side: int) -> int:
    """Give the number whose modules are all dark."""
    return _joined((b"\x01" * side,) * side)


def _runs(bits: int) -> int:
    """Give 3 points for each run of five, and one for each module more."""
    two = bits & bits >> 1
    fives = two & two >> 2 & bits >> 4
    # A run of n has n - 4 places for five: n - 2 points are one a place and two a run.
    return fives.bit_count() + 2 * (fives & ~(fives << 1)).bit_count()


def _blocks(bits: int, step: int) -> int:
    """Count the squares of two by two."""
    two = bits & bits >> 1
    return (two & two >> step).bit_count()


def _eyes(bits: int) -> int:
    """Count the eyes with a light side; the paper around the symbol is light."""
    # Room for the light modules before the first and behind the last row.
    bits <<= 2 * _GAP
    dark = bits
    for place in _EYE[1:]:
        dark &= bits >> place
    light = ~bits
    sides = []
    for places in _BESIDE_EYE:
        side = dark
        for place in places:
            side &= light >> place if place > 0 else light << -place
        sides.append(side)
    return (sides[0] | sides[1]).bit_count()
