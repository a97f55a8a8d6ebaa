"""What an open bar or a swap still has room for is neither cut metal nor promised twice."""

from __future__ import annotations

from dataclasses import replace

from nesting.batch.split import split
from nesting.domain.made import BarState
from nesting.domain.pieces import Piece
from nesting.planning.group import Group
from nesting.planning.rest import (
    Taken,
    group_for,
    group_left,
    opened_packing,
    rebuilt_bar,
    rest_behind,
    rest_kind,
    rest_number,
)
from nesting.planning.standing import KeptBar
from nesting.planning.swap import swaps
from nesting.units import mm
from tests.batch.shop import SAW, bar_with, bars_of, order, planned

BAR = {2000: "11.40", 2500: "14.00"}
PLAN = planned(order({1400: 2, 500: 1}, bars={2000: "11.40"}, offcuts={"R-1": 450}))
PIECES = {piece.id: piece for piece in PLAN.pieces}
KEPT = [KeptBar(PLAN.groups[0].material, bar) for bar in bars_of(PLAN).values()]
ALONE = next(bar for bar in bars_of(PLAN).values() if len(bar.cuts) == 1)
BOTH = bar_with(PLAN, "L500.1")


def whole() -> Group:
    ((group,),) = split(PLAN.request, PLAN.pieces).chains
    return group


def test_the_tail_of_an_open_bar_is_a_bar_with_a_clean_end() -> None:
    """8 + 1400, stroke 3: 589 is left, of which the raw far end costs 8."""
    kind = rest_kind(ALONE)
    assert kind is not None
    assert (kind.length, kind.head, kind.usable, kind.cost, kind.count) == (mm(589), 0, mm(581), 0, 1)
    assert rest_number(kind.key) == ALONE.number
    assert rest_number("stock:1") is None
    assert rest_number("R-1") is None


def test_only_open_bars_have_a_rest() -> None:
    """A frozen bar is set up already; a tail no longer than the raw end gives nothing."""
    assert rest_kind(replace(ALONE, state=BarState.FROZEN)) is None
    assert rest_kind(replace(ALONE, tail=mm(8))) is None


def test_a_rebuilt_bar_keeps_its_number_and_is_cut_in_a_safe_order() -> None:
    """The new piece is sawn where the grip rule wants it, not merely at the end."""
    bar = rebuilt_bar(ALONE, [PIECES["L500.1"], PIECES[ALONE.cuts[0].piece]], SAW, "T-1")
    assert (bar.number, bar.source) == (ALONE.number, ALONE.source)
    assert [cut.length for cut in bar.cuts] == [mm(1400), mm(500)]
    # 2000 - 8 - 1400 - 3 - 500 - 3 = 86
    assert bar.tail == mm(86)
    assert rest_behind(ALONE, [mm(1400), mm(500)], SAW) == mm(89)


def test_what_is_taken_is_out_of_reach() -> None:
    """A used offcut is gone, and limited bars are fewer."""
    limited = replace(PLAN.request, stock=tuple(replace(s, count=3) for s in PLAN.request.stock))
    ((group,),) = split(limited, PLAN.pieces).chains
    left = group_left(group, {group.material: group}, Taken.by(KEPT))
    # Two of three new bars are open.
    assert [(kind.key, kind.count) for kind in left.problem.bars] == [("stock:0", 1), ("R-1", 1)]
    used = replace(ALONE, source="R-1", offcut=True)
    gone = group_left(group, {group.material: group}, Taken.by([KeptBar(group.material, used)]))
    assert [kind.key for kind in gone.problem.bars] == ["stock:0"]


def test_a_group_asks_for_what_came_back_and_names_what_fits_nowhere() -> None:
    """A piece longer than any bar is not a problem to solve; it is told."""
    group = whole()
    long: Piece = replace(group.pieces[0], id="X", length=mm(1985))
    asked, out = group_for(group, [PIECES["L500.1"], long])
    assert asked is not None
    assert (asked.problem.lengths, asked.problem.counts, out) == ((mm(500),), (1,), (long,))
    assert group_for(group, [long]) == (None, (long,))


def test_opened_bars_are_counted_by_kind() -> None:
    """The bill asks how many of each are opened, whatever is cut from them."""
    packing = opened_packing(whole(), list(bars_of(PLAN).values()))
    assert [(use.bar, use.times) for use in packing.uses] == [(0, 2)]


def test_a_swap_fills_an_open_bar_with_the_homeless_piece() -> None:
    """
    Behind 1400 + 500 stand 89: the 500 may go to a 510, and a 560 takes its place.

    89 + 500 - 560 = 29 is enough for the raw end; for a 600 it is not (-11).
    """
    group = whole()
    spoiled = replace(group.problem.bars[-1], key="S", length=mm(510), tail=mm(0))
    offered = replace(group, problem=replace(group.problem, bars=(*group.problem.bars, spoiled)))
    for length, found in ((560, True), (600, False)):
        came_back = replace(PIECES["L500.1"], id="X", length=mm(length))
        asked, _ = group_for(offered, [came_back])
        assert asked is not None
        made = [swap for swap in swaps(asked, [BOTH], PIECES, SAW) if swap.out.id == "L500.1"]
        assert [(s.bar, s.into.id) for s in made] == ([(BOTH.number, "X")] if found else [])


def test_no_swap_without_a_home_for_what_leaves() -> None:
    """Nothing but new bars would take the 1400: exchanging it saves nothing."""
    came_back = replace(PIECES["L500.1"], id="X", length=mm(1450))
    asked, _ = group_for(whole(), [came_back])
    assert asked is not None
    assert swaps(asked, [ALONE], PIECES, SAW) == []
