"""The order in words."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from nesting.batch.run import plan_request
from nesting.domain.buying import BreakScope, BuyingRules, PriceBreak
from nesting.domain.group_plan import GrowthOpen
from nesting.domain.material import Family
from nesting.domain.plan import Alternative, GroupPlan, Margins, Plan, SpareCut
from nesting.domain.request import Request
from nesting.domain.rules import SawRules
from nesting.domain.runs import PieceLine
from nesting.domain.status import Purpose, Status
from nesting.domain.stock import StockLine
from nesting.money import read_money
from nesting.reports.purchase_words import (
    alternative_words,
    break_words,
    budget_words,
    is_over,
    least_order_words,
    line_note,
    longest_words,
    margin_words,
    order_by,
    order_words,
    spare_words,
    spares_words,
    status_words,
    stock_of,
    to_pay,
    weight_words,
)
from nesting.units import mm
from tests.reports.plans import example_plan

TEN_OFF = PriceBreak(bars=6, off=1000)
STOCK = StockLine(
    family="PLAIN",
    length=mm(2000),
    price=read_money("12.00"),
    pack=4,
    on_hand=2,
    breaks=(TEN_OFF,),
    supplier="Orl",
    lead_days=14,
)
REQUEST = Request(
    piece_lines=(PieceLine(job="J", id="A", family="PLAIN", length=mm(900), quantity=15),),
    stock=(STOCK,),
    saw=SawRules(kerf=mm(3), head_trim=mm(8), tail_loss=mm(8)),
    buying=BuyingRules(needed_by="2027-03-31"),
    currency="XTS",
)


@pytest.fixture(scope="module")
def plan() -> Plan:
    """Plan eight bars: two on hand and two packs of four, which also reach the break, or one pack more."""
    return plan_request(REQUEST)


def test_the_order_line_tells_break_spare_supplier_and_date(plan: Plan) -> None:
    """8 bars are needed, 2 are on hand; 8 at 10.80 fill the packs, so 2 go to stock or stay on hand."""
    (line,) = plan.order
    assert (line.needed, line.bars + line.on_hand - line.spare) == (8, 8)
    assert stock_of(plan, line) == STOCK
    assert break_words(plan, line) == "10 % from 6"
    assert order_by(plan, line) == "2027-03-17"  # 14 days before the 31st
    assert "from Orl" in line_note(plan, line)


def test_spare_bars_say_why_they_are_bought(plan: Plan) -> None:
    """A purchaser who sees more bars than the plan cuts asks why."""
    line = replace(plan.order[0], spare=1)
    assert spare_words(plan, line) == "1 bar to stock (packs of 4, the break)"
    assert spare_words(plan, replace(line, spare=0)) == ""


def test_a_break_on_the_total_says_so(plan: Plan) -> None:
    """13 from 20 of this length is not the same as from 20 in all."""
    total = replace(TEN_OFF, scope=BreakScope.TOTAL)
    request = replace(REQUEST, stock=(replace(STOCK, breaks=(total,)),))
    assert break_words(replace(plan, request=request), plan.order[0]) == "10 % from 6 in all"


def test_an_older_plan_has_nothing_to_add(plan: Plan) -> None:
    """A line that does not say which stock line it buys has no terms to tell."""
    line = replace(plan.order[0], stock=None)
    assert (stock_of(plan, line), break_words(plan, line), order_by(plan, line)) == (None, "", "")


def a_group(plan: Plan, **changes: object) -> GroupPlan:
    return replace(plan.groups[0], **changes)  # type: ignore[arg-type]


def test_the_next_best_says_what_it_costs_more(plan: Plan) -> None:
    """79 bars of 2500 alone at 1106.00 are 80.60 more than 1025.40."""
    other = Alternative(bars=((mm(2500), 79),), cost=11_060_000, proved=True)
    group = a_group(plan, alternative=other, cost=10_254_000)
    assert alternative_words(group, "XTS") == (
        "Next best: only 79 bars of 2500 mm, 1106.00 XTS, 80.60 XTS more."
    )
    two = replace(other, bars=((mm(2000), 1), (mm(2500), 79)), proved=False)
    assert alternative_words(replace(group, alternative=two, priced=False, cost=79), "XTS").endswith(
        "not proved least."
    )
    assert alternative_words(a_group(plan, alternative=None), "XTS") == ""


def test_a_next_best_at_the_same_cost_is_not_said_to_cost_nothing_more(plan: Plan) -> None:
    """A difference of 0.00 reads like a fault; whoever has the other bars in the shop may take them."""
    other = Alternative(bars=((mm(2500), 79),), cost=11_060_000, proved=True)
    said = alternative_words(a_group(plan, alternative=other, cost=11_060_000), "XTS")
    assert said == "Next best: only 79 bars of 2500 mm, 1106.00 XTS, the same."
    assert "79 bars, as many." in alternative_words(
        a_group(plan, alternative=replace(other, cost=79), cost=79, priced=False), "XTS"
    )


def test_margins_are_told_in_one_sentence(plan: Plan) -> None:
    """What is not known is left out, not said to be none."""
    margins = Margins(kerf=mm("3.5"), bar=mm(1), growth=mm("40.5"), growth_cost=10_616_000)
    assert margin_words(a_group(plan, margins=margins)) == (
        "Margins: these bars hold their cuts up to a kerf of 3.5 mm; every new bar may be 1 mm short; every "
        "run may grow 40.5 mm at no more cost, one step more costs more."
    )
    assert margin_words(a_group(plan, margins=Margins(kerf=None, bar=None))) == ""
    wide = a_group(plan, margins=Margins(kerf=mm("145.45"), bar=None))
    assert "with any blade, also with a kerf of 10 mm" in margin_words(wide)
    assert margin_words(a_group(plan, margins=None)) == ""


def test_a_growth_that_was_not_found_says_why(plan: Plan) -> None:
    """Nothing said reads as nothing asked; what holds so far is worth telling."""
    unknown = Margins(kerf=None, bar=None, growth_open=GrowthOpen.TIME)
    assert margin_words(a_group(plan, margins=unknown)) == (
        "Margins: how much runs may grow is not known: no end was found in the time."
    )
    assert margin_words(a_group(plan, margins=replace(unknown, growth=mm(8)))) == (
        "Margins: every run may grow at least 8 mm at no more cost (no end was found in the time)."
    )


def test_spares_are_listed_by_length_with_their_bars(plan: Plan) -> None:
    """The operator finds the bar; a plan that was not asked for spares says nothing."""
    spares = (SpareCut(1, mm(300)), SpareCut(2, mm(300)), SpareCut(2, mm(450)))
    assert spares_words(a_group(plan, spares=spares)) == (
        "Spares from tails, at no extra bar and not in the cut list: 1 of 450 mm from bar 2, "
        "2 of 300 mm from bars 1-2."
    )
    assert spares_words(a_group(plan, spares=())) == ""


def test_the_share_of_measured_sizes_is_told_when_it_is_not_all(plan: Plan) -> None:
    """15 of 20 are measured, 75 %; the contractor sees what the order rests on."""
    drawn = PieceLine(job="J", id="B", family="PLAIN", length=mm(500), quantity=5, status=Status.DRAWING)
    lines = (*REQUEST.piece_lines, drawn)
    mixed = replace(plan, request=replace(REQUEST, piece_lines=lines, purpose=Purpose.CUT))
    assert status_words(mixed) == "15 of 20 sizes are measured (75.0 %), 5 from drawings."
    assert status_words(plan) == ""


def test_the_longest_bar_is_what_has_to_be_carried(plan: Plan) -> None:
    """2000 mm is about 78 47/64 in; nothing ordered, nothing carried."""
    assert longest_words(plan).startswith("Longest bar: 2000 mm (")
    assert longest_words(replace(plan, order=())) == ""


def buying(plan: Plan, **rules: object) -> Plan:
    """Give the plan with other rules for the order."""
    bought = replace(plan.request.buying, **rules)  # type: ignore[arg-type]
    return replace(plan, request=replace(plan.request, buying=bought))


def test_the_budget_is_compared_with_what_is_paid(plan: Plan) -> None:
    """8 bars at 10.80 = 86.40: 13.60 of 100 are left, 6.40 are over 80."""
    assert to_pay(plan) == read_money("86.40")
    left = buying(plan, budget=read_money("100.00"))
    assert budget_words(left) == "13.60 XTS of the budget of 100.00 XTS are left."
    over = buying(plan, budget=read_money("80.00"))
    assert budget_words(over) == "6.40 XTS OVER the budget of 80.00 XTS."
    assert budget_words(plan) == ""


def test_a_supplier_charges_its_least_order(plan: Plan) -> None:
    """Below 90 the lines of 86.40 are charged with 90, which leaves 10 of 100."""
    least = buying(plan, least_order=read_money("90.00"), budget=read_money("100.00"))
    assert to_pay(least) == read_money("90.00")
    assert least_order_words(least) == (
        "Orl charges at least 90.00 XTS for an order, its lines come to 86.40 XTS: more goods for 3.60 XTS "
        "cost nothing more."
    )
    assert budget_words(least) == "10.00 XTS of the budget of 100.00 XTS are left."
    assert least_order_words(buying(plan, least_order=read_money("86.40"))) == ""
    two = replace(least.request, stock=(STOCK, replace(STOCK, supplier="Bex")))
    assert least_order_words(replace(least, request=two)).endswith("was decided without it.")


def test_what_the_bars_weigh(plan: Plan) -> None:
    """0.27 kg/m x 2 m x 8 = 4.32 kg, rounded up; a pack of four 2.16 kg (common practice, no source)."""
    heavy = replace(plan.request, families=(Family(name="PLAIN", weight=Fraction(27, 100)),))
    said = "Weight: 4.4 kg in all; the heaviest pack (4 x 2000 mm) weighs 2.2 kg."
    assert weight_words(replace(plan, request=heavy)) == said
    assert weight_words(plan) == ""


def test_an_order_says_what_holds_for_all_of_it(plan: Plan) -> None:
    """Date, budget and the longest bar stand together, and nothing that nobody said."""
    said = order_words(buying(plan, budget=read_money("80.00")))
    assert said[0] == "Bars are needed by 2027-03-31."
    assert "OVER" in said[1]
    assert said[2].startswith("Longest bar: 2000 mm")
    assert all(said)


@pytest.mark.parametrize(("budget", "over"), [("165.20", False), ("165.19", True), (None, False)])
def test_a_budget_is_over_from_the_first_coin_on(budget: str | None, over: bool) -> None:
    """3 x 18.60 + 11.40 + 7 x 14.00 = 165.20: exactly the budget is not over it, and none is never."""
    rules = BuyingRules(budget=None if budget is None else read_money(budget))
    example = example_plan()
    assert is_over(replace(example, request=replace(example.request, buying=rules))) is over
