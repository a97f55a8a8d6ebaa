from __future__ import annotations

from dataclasses import replace

from nesting.domain.made import BarState, Spoiled
from nesting.domain.plan import TailFate
from nesting.domain.report import BarReport, Outcome
from nesting.reports.whereabouts import (
    bars_in_order,
    bars_to_cut,
    born_offcuts,
    cut_already_words,
    fresh_offcuts,
    numbers_words,
    pieces_by_id,
    source_words,
    spots,
    tail_words,
    untouched_offcuts,
    used_offcuts,
)
from nesting.units import mm
from tests.batch.shop import again, bars_of, done, order, planned
from tests.reports.plans import example_plan

PLAN = example_plan()
BARS = {bar.number: bar for _, bar in bars_in_order(PLAN)}


def test_every_bar_is_met_once() -> None:
    """Reports walk the bars group by group and miss none."""
    assert list(BARS) == list(range(1, 20))


def test_a_piece_is_found_on_its_bar() -> None:
    """The second cut of bar 1 frees OY-304-6, its far face at 1778 + 3 + 1176."""
    spot = spots(PLAN)["OY-304-6"]
    assert (spot.bar.number, spot.order, spot.cut.face) == (1, 2, 2_957_000_000)
    assert pieces_by_id(PLAN)["OY-304-6"].place.room == "kitchen"
    assert len(spots(PLAN)) == len(PLAN.pieces) == 38


def test_sources_and_tails_in_words() -> None:
    """The operator reads where to fetch a bar and where its tail goes."""
    assert source_words(PLAN, BARS[1]) == "new bar 3000 mm"
    assert source_words(PLAN, BARS[10]) == "offcut OC-0112, rack B3, 1815 mm"
    assert tail_words(BARS[1]) == "tail 32 mm, scrap"
    assert tail_words(BARS[3]) == "tail 1084 mm, back to the rack as 7C1F-3"
    assert tail_words(BARS[11]) == "no tail"


def test_offcuts_are_used_born_or_left() -> None:
    """Every offcut of the rack is in exactly one list, and every kept tail is listed as born."""
    assert [(o.tag, bar.number) for o, bar in used_offcuts(PLAN)] == [("OC-0112", 10), ("OC-0107", 11)]
    assert [o.tag for o in untouched_offcuts(PLAN)] == ["OC-0098"]
    assert [bar.tail_tag for _, bar in born_offcuts(PLAN)] == [f"7C1F-{n}" for n in (3, 4, 6, 8, 9, 17, 19)]


def test_numbers_are_told_in_spans() -> None:
    """Neighbours are joined so that a long list stays short."""
    assert numbers_words((1, 2, 3, 7, 9, 10)) == "1-3, 7, 9-10"
    assert numbers_words(()) == ""


def test_a_cut_bar_says_so() -> None:
    """Nobody may cut a bar of the new revision a second time; what it left is on the rack already."""
    group = PLAN.groups[0]
    bar = next(bar for bar in group.bars if bar.tail)
    done = replace(bar, state=BarState.DONE, true_tail=mm(777), fate=TailFate.OFFCUT, tail_tag="T")
    spoiled = replace(done, spoiled=(Spoiled(done.cuts[0].piece),))
    plan = replace(PLAN, groups=(replace(group, bars=(spoiled,)),))
    assert source_words(plan, done).endswith(", DONE")
    assert tail_words(done) == "tail 777 mm, back to the rack as T"
    assert born_offcuts(plan) == ()
    assert done.cuts[0].piece not in spots(plan)


def test_what_is_cut_is_in_no_list_for_the_saw() -> None:
    """A bar printed twice is cut twice; the frozen one is cut as it was printed before."""
    plan = planned(order({1460: 4}, bars={2000: "11.40"}, offcuts={"A": 1500}))
    (taken,) = [bar.number for bar in bars_of(plan).values() if bar.offcut]
    open_bars = sorted(set(bars_of(plan)) - {taken})
    frozen = BarReport(bar=open_bars[0], outcome=Outcome.FROZEN)
    piece = bars_of(plan)[open_bars[1]].cuts[0].piece.replace(".", "_")
    made = again(plan, done(taken), done(open_bars[1], **{piece: mm(1000)}), frozen).plan
    (group,) = made.groups
    cut = sorted((taken, open_bars[1]))
    assert not {bar.number for bar in bars_to_cut(group)} & set(cut)
    assert cut_already_words(made) == (
        f"Cut already and not in these lists: bars {numbers_words(tuple(cut))}. "
        f"Frozen, the same as on the lists before: bar {open_bars[0]}."
    )
    assert used_offcuts(made) == ()
    # The spoiled piece lies at the saw with a tag that nobody has printed.
    assert [(bar.number, offcut.length) for _, bar, offcut in fresh_offcuts(made)] == [
        (open_bars[1], mm(1000))
    ]
    assert cut_already_words(plan) == ""
    assert fresh_offcuts(plan) == ()
