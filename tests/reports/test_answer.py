from __future__ import annotations

from dataclasses import replace

import pytest

from nesting.domain.material import Material, Part
from nesting.domain.plan import GroupPlan, OrderLine, Totals
from nesting.domain.progress import Certificate, StopReason
from nesting.domain.status import Status
from nesting.domain.stock import StockLine
from nesting.money import Money, read_money
from nesting.reports.answer import (
    amount,
    answer,
    answer_of,
    bars_words,
    gap_words,
    loud_words,
    material_of,
    materials_of,
    more_cost_words,
    order_words,
    proof_of,
    proof_words,
    rests_on_search,
    share_text,
    sum_words,
    trust_words,
    unplaced_words,
    unpriced_words,
)
from nesting.reports.lengths import BothUnits
from nesting.reports.placed_words import placed_words, reserve_words
from nesting.units import Unit, mm
from tests.reports.plans import BRASK, SARN, SARN_COVER, SAW, TOLV, empty_plan, example_plan


def group(
    cost: int,
    bound: int,
    *,
    priced: bool,
    ended: StopReason = StopReason.PROVED,
) -> GroupPlan:
    return GroupPlan(
        material=TOLV,
        saw=SAW,
        bars=(),
        priced=priced,
        cost=cost,
        bound=bound,
        ended=ended,
        seconds=0.0,
        totals=Totals(),
    )


def line(length: int, bars: int, price: str) -> OrderLine:
    each = read_money(price)
    return OrderLine(
        family="TOLV-17N",
        finish="natural",
        part="channel",
        lot="",
        length=mm(length),
        bars=bars,
        price=each,
        sum=Money(each * bars),
    )


def test_the_cheapest_mix_of_the_building_in_words() -> None:
    """31 x 11.40 + 48 x 14.00 = 353.40 + 672.00 = 1025.40, proved: a purchaser can sign it."""
    mix = group(10_254_000, 10_254_000, priced=True)
    plan = replace(
        empty_plan(),
        request=replace(empty_plan().request, currency="XTS"),
        groups=(mix,),
        order=(line(2000, 31, "11.40"), line(2500, 48, "14.00")),
    )
    assert answer(plan) == (
        "Order 31 bars of 2000 mm and 48 bars of 2500 mm TOLV-17N natural channel: 1025.40 XTS. "
        "No cheaper plan cuts these pieces (proved).",
    )


@pytest.mark.parametrize(
    ("found", "words"),
    [
        (group(79, 79, priced=False), "79 bars; 78 is impossible (proved)."),
        (group(1, 1, priced=False), "1 bar; it cannot be done without (proved)."),
        (group(0, 0, priced=False), "Nothing has to be bought."),
        (group(0, 0, priced=True), "No cheaper plan cuts these pieces (proved)."),
        (
            group(8_000_000, 0, priced=True, ended=StopReason.CANCELLED),
            "How far it is from the best possible is not known: there is no bound yet; "
            "the search was cancelled.",
        ),
        (
            group(80, 79, priced=False, ended=StopReason.TIME),
            "At most 1 bar (1.2 %) from the best possible: fewer than 79 is impossible; "
            "the search stopped at its time limit.",
        ),
        (
            # 3.20 of 800.00 is 0.4 %.
            group(8_000_000, 7_968_000, priced=True, ended=StopReason.CANCELLED),
            "At most 0.4 % (3.20 XTS) from the best possible: less than 796.80 XTS is impossible; "
            "the search was cancelled.",
        ),
    ],
)
def test_the_proof_says_what_is_impossible(found: GroupPlan, words: str) -> None:
    """The proof line names the number that cannot be beaten, and why the search ended if it is open."""
    assert proof_words(found, "XTS") == words


def test_the_loudest_sentence_comes_first() -> None:
    """Nobody may order an incomplete building believing it complete."""
    sentences = answer(example_plan())
    assert sentences[0].startswith("NOT COMPLETE: 1 PIECE IS NOT PLACED.")
    assert sentences[-1] == (
        "In all: 17 bars to order, 165.20 XTS and 2 order lines without a price; "
        "3 of 4 material groups proved least."
    )


def test_unplaced_words_count() -> None:
    """One, several and none are said differently."""
    plan = example_plan()
    two = replace(plan, unplaced=plan.unplaced * 2)
    assert unplaced_words(two).startswith("NOT COMPLETE: 2 PIECES ARE NOT PLACED.")
    assert unplaced_words(empty_plan()) == "Every piece is placed."


def test_offcuts_taken_are_part_of_the_answer() -> None:
    """What comes from the rack is said with what is bought."""
    assert answer_of(example_plan(), TOLV).startswith(
        "Order 1 bar of 2000 mm and 7 bars of 2500 mm TOLV-17N natural channel, "
        "and take 2 offcuts from the rack: 109.40 XTS."
    )


def test_a_group_cut_from_the_rack_alone_orders_nothing() -> None:
    """No order line is no gap in the answer."""
    tolv = next(g for g in example_plan().groups if g.material == TOLV)
    rack = replace(tolv, bars=tolv.bars[:1])
    assert order_words(TOLV, (), rack, "XTS") == (
        "TOLV-17N natural channel: nothing to order; cut 1 offcut from the rack."
    )


def test_covers_that_follow_the_channel_are_ordered_too() -> None:
    """Covers cut in one stroke have no group of their own, but they have to be bought."""
    cover = replace(line(3000, 3, "5.00"), family="BRASK-20F", finish="umber", part="cover", lot="OY")
    plan = example_plan()
    plan = replace(plan, order=(*plan.order, cover))
    material = Material("BRASK-20F", "umber", Part.COVER, "OY")
    assert material in materials_of(plan)
    assert answer_of(plan, material) == (
        "Order 3 bars of 3000 mm BRASK-20F umber cover, lot OY: 15.00 XTS. "
        "Cut together with the channel, bar by bar."
    )


def test_an_empty_plan_says_so() -> None:
    """An empty request is an answer, not a blank page."""
    assert answer(empty_plan()) == ("Nothing to cut, nothing to order.",)


def test_sum_words_when_all_is_proved() -> None:
    """With every group proved the sum says all."""
    plan = example_plan()
    proved = tuple(replace(g, bound=g.cost) for g in plan.groups)
    assert sum_words(replace(plan, groups=proved)).endswith("all material groups proved least.")


def test_sum_words_without_any_price() -> None:
    """Where nothing has a price the sum counts bars and is silent about money."""
    plan = example_plan()
    order = tuple(replace(o, price=None, sum=None) for o in plan.order)
    assert sum_words(replace(plan, order=order)) == (
        "In all: 17 bars to order; 3 of 4 material groups proved least."
    )


@pytest.mark.parametrize(
    ("share", "text"),
    [(0.0, "0.0 %"), (0.00001, "less than 0.01 %"), (0.0004, "0.04 %"), (0.0288, "2.9 %"), (1.0, "100.0 %")],
)
def test_a_small_gap_is_never_rounded_to_none(share: float, text: str) -> None:
    """0.0 % would claim a proof that does not exist."""
    assert share_text(share) == text


def test_words_for_amounts_bars_and_materials() -> None:
    """Currency may be unknown; one bar is one bar; an order line names its material."""
    assert (amount(10_254_000, "XTS"), amount(114_000, "")) == ("1025.40 XTS", "11.40")
    assert (bars_words(1), bars_words(79)) == ("1 bar", "79 bars")
    assert material_of(next(o for o in example_plan().order if o.lot == "OY")) == BRASK


def test_one_piece_is_one_piece() -> None:
    """The loudest sentence of all is read aloud: its grammar holds for one and for several."""
    plan = example_plan()
    assert unplaced_words(plan).endswith("does not cover it; it is listed with its reason.")
    two = replace(plan, unplaced=plan.unplaced * 2)
    assert unplaced_words(two).endswith("does not cover them; each is listed with its reason.")


def test_a_proof_that_ends_with_a_search_says_so_calmly() -> None:
    """What has to be trusted is said with the proof, and what an audit checks again beside it."""
    certificate = Certificate(bound=79, duals=(), scale=1, closed_by="integer programme", dual_bound=78)
    found = replace(group(79, 79, priced=False), certificate=certificate)
    assert rests_on_search(found)
    assert proof_words(found, "") == (
        "79 bars; 78 is impossible (proved; the last step by exhaustive search)."
    )
    priced = replace(found, priced=True)
    assert proof_words(priced, "XTS") == (
        "No cheaper plan cuts these pieces (proved; the last step by exhaustive search)."
    )
    plan = replace(empty_plan(), groups=(found, priced))
    assert trust_words(plan).startswith("For 2 material groups the last step of the proof is an exhaustive")
    # 78 of 79, twice; bars and money are not added up, so alone.
    assert trust_words(plan).endswith("the rest of the proof again.")
    alone = trust_words(replace(plan, groups=(found, found)))
    assert alone.endswith("the rest of the proof again: 156 of 158 bars.")
    plain = replace(found, certificate=replace(certificate, closed_by=""))
    assert trust_words(replace(plan, groups=(plain,))) == ""


def test_the_gap_is_no_share_without_a_bound() -> None:
    """A gap of 100 % would be read as a bad plan, when only nothing is known yet."""
    assert gap_words(group(80, 80, priced=False)) == "proved"
    assert gap_words(group(80, 79, priced=False)) == "1.2 %"
    assert gap_words(group(80, 0, priced=False)) == "no bound yet"


def test_a_plan_without_prices_says_what_it_cannot_know() -> None:
    """Fewest bars may be dearer than more, shorter ones; with one length on offer there is no choice."""
    plan = example_plan()
    assert unpriced_words(plan) == ""  # SARN-12R has no prices, but one length
    stock = (
        *plan.request.stock,
        StockLine(family="SARN-12R", finish="natural", length=mm(2500)),
    )
    two = replace(plan, request=replace(plan.request, stock=stock))
    assert unpriced_words(two) == (
        "No prices are given for SARN-12R natural channel, so the number of bars is least; "
        "cheaper or shorter bars may do where several lengths are on offer."
    )
    assert unpriced_words(two) in answer(two)
    bare = replace(two, groups=(two.groups[1],))
    assert unpriced_words(bare).startswith("No prices are given, so the number of bars is least;")


def test_what_must_not_be_cut_yet_is_said_with_what_is_left_out() -> None:
    """Both stand in front of the order: the purchaser and the saw read no further."""
    plan = example_plan()
    runs = tuple(replace(run, status=Status.DRAWING) for run in plan.request.runs[:1])
    plan = replace(plan, request=replace(plan.request, runs=(*runs, *plan.request.runs[1:])))
    assert list(answer(plan)[:2]) == loud_words(plan)
    assert loud_words(plan)[1] == ("1 of 38 pieces comes from a size not yet verified: do not cut it.")


def test_an_inch_plan_orders_in_inches() -> None:
    """120 in bars are ordered as such, with the exact mm beside; never in feet."""
    one = replace(line(3048, 14, "20.00"), family="TOLV-17N")
    words = order_words(TOLV, (one,), None, "XTS", BothUnits(Unit.INCH))
    assert words == "Order 14 bars of 120 in (3048 mm) TOLV-17N natural channel: 280.00 XTS."


def test_a_cover_without_a_group_goes_along() -> None:
    """Where a cover has no bars of its own to prove, it is said why instead of nothing."""
    assert proof_of(SARN_COVER, None, "XTS") == "Cut together with the channel, bar by bar."
    assert proof_of(SARN, None, "XTS") == ""


def test_reserve_bars_stand_in_the_headline() -> None:
    """Who reads six bars for pieces that four hold must see why."""
    six = replace(line(2000, 6, "11.40"), reserve=2)
    assert order_words(TOLV, (six,), None, "XTS").startswith(
        "Order 6 bars (2 of them in reserve) of 2000 mm TOLV-17N natural channel: 68.40 XTS."
    )
    plan = replace(example_plan(), order=(six,))
    assert sum_words(plan).startswith("In all: 6 bars (2 of them in reserve) to order, 68.40 XTS;")


def test_what_plans_before_have_ordered_is_not_ordered_again() -> None:
    """Seven bars in all, six ordered: the headline asks for one more, and says its money."""
    seven = replace(line(2000, 7, "11.40"), ordered=6)
    assert order_words(TOLV, (seven,), None, "XTS") == (
        "In all 7 bars of 2000 mm TOLV-17N natural channel: 79.80 XTS. "
        "Beyond what plans before have ordered: 1 bar of 2000 mm, 11.40 XTS."
    )
    plan = replace(example_plan(), order=(seven,), follows="a" * 12, revision=1)
    assert sum_words(plan).startswith(
        "In all: 7 bars, 79.80 XTS, of which 1 bar, 11.40 XTS is still to order;"
    )
    assert placed_words(plan) == (
        "Where plan aaaaaaaaaaaa is ordered already, "
        "order only 1 bar of 2000 mm TOLV-17N natural channel more, 11.40 XTS."
    )


def test_nothing_more_and_what_is_left_over_is_said() -> None:
    """A plan that needs five of six ordered bars orders nothing, and one is left over."""
    five = replace(line(2000, 5, "11.40"), ordered=6)
    plan = replace(example_plan(), order=(five,), follows="a" * 12, revision=1)
    assert placed_words(plan) == (
        "Where plan aaaaaaaaaaaa is ordered already, nothing more is to be ordered; "
        "1 bar of 2000 mm TOLV-17N natural channel will be left over."
    )
    assert more_cost_words(plan.order, "XTS") == ""


def test_a_first_plan_was_not_ordered_before() -> None:
    """It says nothing of plans before, and nothing of a used reserve."""
    assert (placed_words(example_plan()), reserve_words(example_plan())) == ("", "")


def test_bars_without_a_price_are_counted_in_what_is_still_to_pay() -> None:
    """A sum that leaves out a line must say so."""
    lines = (
        replace(line(2000, 7, "11.40"), ordered=6),
        replace(line(2500, 1, "14.00"), price=None, sum=None),
    )
    assert more_cost_words(lines, "XTS") == ", 11.40 XTS and 1 order line without a price"
