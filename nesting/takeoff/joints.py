"""Runs longer than a bar: how many sections, and how long each."""

from __future__ import annotations

from collections.abc import Iterable

from nesting.domain.goals import Slivers
from nesting.domain.rules import SawRules
from nesting.domain.stock import StockLine
from nesting.takeoff.rounding import round_down
from nesting.units import NO_LENGTH, Length


def longest_section(
    lines: Iterable[StockLine], saw: SawRules, *, slivers: Slivers = Slivers.WARN
) -> Length | None:
    """
    Give the longest piece the stock lengths yield, L_max = L - h - e, down to the saw's step.

    Sold-out lines count only when all are sold out. None when no line yields a piece.

    Parameters
    ----------
    slivers
        Where they are forbidden, a whole kerf is left behind a piece that does not end with its bar.
    """
    offered = tuple(lines)
    lengths = [line.length for line in offered if line.count != 0] or [line.length for line in offered]
    clear = max(lengths, default=NO_LENGTH) - saw.head_trim
    usable = round_down(Length(clear - saw.tail_loss), saw.step)
    if slivers is Slivers.FORBID and 0 < clear - usable < saw.kerf:
        usable = round_down(Length(clear - saw.kerf), saw.step)
    return usable if usable > 0 else None


def sections_needed(total: Length, longest: Length, gap: Length = NO_LENGTH) -> int:
    """Give the fewest sections, m = ceil((A + j) / (L_max + j)), with a gap j at each joint."""
    return max(-(-(total + gap) // (longest + gap)), 1)


def equal_split(
    total: Length,
    sections: int,
    *,
    longest: Length,
    gap: Length = NO_LENGTH,
    step: Length = NO_LENGTH,
) -> tuple[Length, ...]:
    """
    Divide into equal sections T / m with T = A - (m - 1) j, in saw steps.

    The last section takes what the steps leave over, so that sections and gaps add up to the total.
    Where that would make it longer than a bar yields, the others round up and it is the shorter one.

    Parameters
    ----------
    total
        Channel length over all sections (A), nanometres.
    sections
        How many (m), see `sections_needed`.
    longest
        Longest section a bar yields (L_max).
    gap
        Gap at each joint (j).
    step
        The saw's step; 0 divides to the nanometre.
    """
    metal = total - (sections - 1) * gap
    unit = (step or 1) * sections
    share = metal // unit * (step or 1)
    if metal - (sections - 1) * share > longest:
        share = -(-metal // unit) * (step or 1)
    return (*[Length(share)] * (sections - 1), Length(metal - (sections - 1) * share))


def full_split(
    total: Length,
    sections: int,
    *,
    longest: Length,
    gap: Length = NO_LENGTH,
    shortest: Length = NO_LENGTH,
    step: Length = NO_LENGTH,
) -> tuple[Length, ...]:
    """
    Divide into m - 1 sections of L_max and the rest r = T - (m - 1) L_max.

    A rest shorter than r_min, or eaten up by the joint gaps, is shared with the section before it:
    (L_max + r) / 2 each. Sections and gaps add up to the total exactly.

    Parameters
    ----------
    shortest
        Shortest section wanted (r_min), nanometres; the others as in `equal_split`.
    """
    rest = Length(total - (sections - 1) * (gap + longest))
    if sections == 1 or rest >= max(shortest, 1):
        return (*[longest] * (sections - 1), rest)
    shared = equal_split(Length(longest + rest), 2, longest=longest, step=step)
    return (*[longest] * (sections - 2), *shared)
