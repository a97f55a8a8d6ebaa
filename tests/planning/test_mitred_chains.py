"""Pieces tied into chains, nested like square ones."""

from __future__ import annotations

from dataclasses import replace

import pytest

from nesting.domain.mitre import Mitre
from nesting.planning.mitred import section_of
from nesting.planning.mitred_chains import chain_length, chain_needed, tied
from nesting.planning.mitred_layout import lay
from nesting.solver.solve import solve
from nesting.units import Length, mm
from tests.planning.mitred_shop import F45, group_of, leg


def test_chains_are_nested_like_square_pieces() -> None:
    """A shared pair of one class has square ends: 2824 + 1944 + 4.242641, nothing to add."""
    group = group_of(leg("long", "2839", right=Mitre(F45)), leg("short", "1959", right=Mitre(F45)))
    near, far, singles = tied(group)
    # Nested in hundredths of a millimetre, rounded up.
    assert near.problem.lengths == far.problem.lengths == (Length(4_772_250_000),)
    # Alone: tip to tip, and the extra kerf of one slope.
    assert singles.problem.lengths == (2_840_250_000, 1_960_250_000)
    assert chain_needed(near.chains[0], near.mitre or pytest.fail("no section"), mm(3)) == 4_772_242_641
    layout = lay(near, solve(near.problem).best)
    assert layout is not None
    assert [len(one.links) for one in layout.bars] == [2]


def test_a_chain_is_rounded_up_unless_only_its_own_length_fits() -> None:
    """The pair of 4772.242641 is nested at 4772.25, but on a bar that gives just its own length at that."""
    legs = (leg("long", "2839", right=Mitre(F45)), leg("short", "1959", right=Mitre(F45)))
    group = group_of(*legs)
    links = next(tied(group)).chains[0]
    assert chain_length(group, links) == Length(4_772_250_000)
    (bar,) = group.problem.bars
    # Usable is the length less 8 at the head and 8 at the tail.
    tight = replace(bar, length=Length(4_772_242_641 + 16_000_000))
    narrow = replace(group, problem=replace(group.problem, bars=(tight,)))
    assert chain_length(narrow, links) == chain_needed(links, section_of(group), mm(3)) == 4_772_242_641
