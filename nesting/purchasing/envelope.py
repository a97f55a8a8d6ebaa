"""The lower convex envelope of a cost over a range of bars, as bars of rising price."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction


@dataclass(frozen=True, slots=True)
class Envelope:
    """
    The largest convex function below a cost, over ``low`` to ``low + len(costs) - 1`` bars.

    Parameters
    ----------
    low
        First number of bars.
    costs
        Cost of each number of bars from ``low`` on.
    corners
        Numbers of bars at which the envelope touches the cost and bends, ascending, ends included.
    """

    low: int
    costs: tuple[int, ...]
    corners: tuple[int, ...]

    @classmethod
    def of(cls, low: int, costs: Sequence[int]) -> Envelope:
        """Find the corners from left to right (the lower half of Andrew's monotone chain, 1979)."""
        corners: list[int] = []
        for x, y in enumerate(costs):
            while len(corners) > 1:
                a, b = corners[-2], corners[-1]
                # The last corner goes when it lies on or above the line from the one before to this point.
                if (costs[b] - costs[a]) * (x - a) < (y - costs[a]) * (b - a):
                    break
                corners.pop()
            corners.append(x)
        return cls(low, tuple(costs), tuple(low + x for x in corners))

    @property
    def high(self) -> int:
        """Last number of bars."""
        return self.low + len(self.costs) - 1

    def steps(self) -> tuple[tuple[int, Fraction], ...]:
        """Give (bars, price of each) from ``low`` on, prices rising."""
        pairs = zip(self.corners, self.corners[1:], strict=False)
        return tuple(
            (b - a, Fraction(self.costs[b - self.low] - self.costs[a - self.low], b - a)) for a, b in pairs
        )

    def value(self, bars: int) -> Fraction:
        """Give the envelope at a number of bars of the range."""
        left = max(corner for corner in self.corners if corner <= bars)
        at = Fraction(self.costs[left - self.low])
        right = next((corner for corner in self.corners if corner > left), None)
        if right is not None:
            rise = self.costs[right - self.low] - self.costs[left - self.low]
            at += Fraction(rise, right - left) * (bars - left)
        return at

    def error(self, bars: int) -> Fraction:
        """Give how far the cost lies above the envelope."""
        return self.costs[bars - self.low] - self.value(bars)

    def worst(self, bars: int) -> int | None:
        """
        Give where to divide the range: the first number of bars of the upper part.

        Of the places where the cost jumps, within the straight piece of the envelope that ``bars``
        lies on, the one farthest above it; of equals the nearest to ``bars``. None when the
        cost does not jump there.
        """
        left = max(corner for corner in self.corners if corner <= bars)
        right = next((corner for corner in self.corners if corner >= bars), self.high)
        jumps = [
            x for x in range(left + 1, right + 1) if self.costs[x - self.low] > self.costs[x - 1 - self.low]
        ]
        if left == right or not jumps:
            return None
        return max(jumps, key=lambda x: (self.error(x), -abs(x - bars), -x))
