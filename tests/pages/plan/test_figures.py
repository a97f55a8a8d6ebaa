"""The answer, the money and the metal as a page shows them."""

from dataclasses import replace

import pytest

from api.pages.plan import figures as module
from api.pages.plan.figures import answer_view, money_view
from nesting.domain.buying import BuyingRules
from nesting.domain.plan import Alternative, Margins, Plan
from nesting.money import read_money
from nesting.reports.answer import answer
from nesting.reports.lengths import METRIC, BothUnits
from nesting.reports.placed_words import placed_words
from nesting.units import Unit, mm
from tests.reports.plans import TOLV, empty_plan, example_plan

PLAN = example_plan()


def test_the_sentences_are_those_of_the_paper() -> None:
    """A page that said it in other words would be asked which of the two is right."""
    view = answer_view(PLAN, BothUnits.of(PLAN))
    said = {f"{one.order} {one.proof}".rstrip() for one in view.materials} | {view.whole} | set(view.loud)
    assert said <= set(answer(PLAN))
    assert view.loud[0].startswith("NOT COMPLETE")


def test_inches_are_said_where_they_are_chosen() -> None:
    """The reader's unit leads in the sentence."""
    (tolv,) = (one for one in answer_view(PLAN, BothUnits(Unit.INCH)).materials if one.name == str(TOLV))
    assert "(2000 mm)" in tolv.order


def test_next_best_and_margins_are_told() -> None:
    """The word in front is not said twice."""
    other = Alternative(bars=((mm(2500), 8),), cost=read_money("112.00"), proved=True)
    groups = tuple(
        replace(group, alternative=other, margins=Margins(kerf=None, bar=mm(6)))
        if group.material == TOLV
        else group
        for group in PLAN.groups
    )
    (tolv,) = (
        one for one in answer_view(replace(PLAN, groups=groups), METRIC).materials if one.name == str(TOLV)
    )
    assert tolv.others == (
        ("Next best", "Only 8 bars of 2500 mm, 112.00 XTS, 2.60 XTS more."),
        ("Margins", "Every new bar may be 6 mm short."),
    )


def test_the_sum_names_what_has_no_price() -> None:
    """3 x 18.60 + 11.40 + 7 x 14.00 = 165.20; SARN's channel and cover have no price."""
    money = money_view(PLAN, METRIC)
    assert money.total == "17 bars, 165.20 XTS, and 2 without a price"
    assert money.priced
    assert sum(line.bars for line in money.lines) == 17


def test_an_order_without_prices_shows_no_money() -> None:
    """Columns of dashes would say that something is missing."""
    bare = replace(PLAN, order=tuple(line for line in PLAN.order if line.sum is None))
    assert not money_view(bare, METRIC).priced
    assert money_view(bare, METRIC).total == "6 bars"


def test_an_empty_plan_has_figures_too() -> None:
    """Nothing to cut is an answer."""
    assert answer_view(empty_plan(), METRIC).materials == ()
    assert money_view(empty_plan(), METRIC).lines == ()


def test_hundreds_of_materials_stay_a_page(monkeypatch: pytest.MonkeyPatch) -> None:
    """Of 4 materials and 5 order lines 2 are told, the rest is counted."""
    monkeypatch.setattr(module, "MOST_ROWS", 2)
    answered, money = answer_view(PLAN, METRIC), money_view(PLAN, METRIC)
    assert (len(answered.materials), answered.more) == (2, 2)
    assert (len(money.lines), money.more) == (2, 3)


def ordered_before() -> Plan:
    """Give the example with its first line ordered but for one bar, one of its bars in reserve."""
    first, *rest = PLAN.order
    line = replace(first, ordered=first.bars - 1, reserve=1, reserve_used=1)
    return replace(PLAN, order=(line, *rest), follows="a" * 12, revision=1)


def test_what_is_ordered_already_stands_beside_what_is_still_to_order() -> None:
    """3 bars at 18.60, two of them ordered: one more, 18.60; nobody who orders by the page buys twice."""
    plan = ordered_before()
    money = money_view(plan, METRIC)
    first = money.lines[0]
    assert (first.bars, first.reserve, first.ordered, first.more, first.more_sum) == (3, 1, 2, 1, "18.60")
    assert money.again
    assert money.reserve.startswith("Used of the reserve")
    assert placed_words(plan) in answer_view(plan, METRIC).loud
    assert not money_view(PLAN, METRIC).again


def test_the_reserve_is_part_of_the_sum() -> None:
    """In all 17 bars, one of which nobody plans to cut."""
    assert money_view(ordered_before(), METRIC).total.startswith("17 bars (1 of them in reserve), 165.20 XTS")


def test_a_budget_that_does_not_hold_is_loud() -> None:
    """165.20 of 100.00: the page says it at its top and beside the money; what is left is said quietly."""
    small = replace(PLAN, request=replace(PLAN.request, buying=BuyingRules(budget=read_money("100.00"))))
    over = "65.20 XTS OVER the budget of 100.00 XTS, lines without a price not counted (2)."
    assert over in answer_view(small, METRIC).loud
    assert (money_view(small, METRIC).budget, money_view(small, METRIC).over) == (over, True)
    large = replace(PLAN, request=replace(PLAN.request, buying=BuyingRules(budget=read_money("200.00"))))
    assert not any("budget" in said for said in answer_view(large, METRIC).loud)
    assert money_view(large, METRIC).budget.startswith("34.80 XTS of the budget")
