"""What to buy, on paper."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from nesting.domain.buying import BuyingRules
from nesting.domain.plan import Alternative
from nesting.money import read_money
from nesting.paper.page_size import PageSize
from nesting.paper.purchase_summary import write_purchase_summary
from nesting.reports.answer import answer_of, materials_of
from nesting.reports.lengths import BothUnits
from nesting.units import mm
from tests.paper.recording import Recorder
from tests.reports.plans import example_plan

PLAN = example_plan()


def said(tmp_path: Path, recorders: list[Recorder]) -> list[str]:
    """Print the example's summary."""
    pages = write_purchase_summary(tmp_path / "p.pdf", PLAN, BothUnits(), PageSize.A4)
    assert pages == recorders[0].pages
    return recorders[0].texts


def test_every_line_of_the_order_is_there_with_its_sum(tmp_path: Path, recorders: list[Recorder]) -> None:
    """3 x 18.60 = 55.80, 1 x 11.40, 7 x 14.00 = 98.00; lines without a price say so and are not summed."""
    texts = said(tmp_path, recorders)
    assert {"55.80", "11.40", "98.00"} <= set(texts)
    assert texts.count("no price") == 2
    assert "In all 17 bars, 165.20 XTS, 2 lines without a price not counted" in texts


def test_the_proof_is_in_the_words_of_the_screen(tmp_path: Path, recorders: list[Recorder]) -> None:
    """Paper and terminal never tell the purchaser two different things."""
    joined = " ".join(said(tmp_path, recorders))
    for material in materials_of(PLAN):
        assert answer_of(PLAN, material) in joined


def test_what_is_left_out_is_loud_and_has_its_reason(tmp_path: Path, recorders: list[Recorder]) -> None:
    """Nobody signs an order that does not cover everything without being told."""
    texts = said(tmp_path, recorders)
    assert any(p.white and "1 PIECE IS NOT PLACED" in p.text for p in recorders[0].printed)
    assert "Longer than any bar, and joints are off for this run." in texts


def test_assumptions_and_the_account_are_there(tmp_path: Path, recorders: list[Recorder]) -> None:
    """The allowances of both saws, and where the metal goes with the meaning of the words."""
    texts = said(tmp_path, recorders)
    assert {"kerf (k)", "channel saw", "cover saw", "used", "scrap"} <= set(texts)
    assert any(text.startswith("used: length of all bars opened") for text in texts)


def test_counts_budget_and_the_next_best_are_there(tmp_path: Path, recorders: list[Recorder]) -> None:
    """Whoever signs sees what a bar more or less would cost, and that the budget does not hold."""
    other = Alternative(bars=((mm(3000), 5),), cost=read_money("93.00"), proved=True)
    first = replace(PLAN.groups[0], alternative=other)
    rules = BuyingRules(budget=read_money("100.00"))
    request = replace(PLAN.request, buying=rules)
    plan = replace(PLAN, request=request, groups=(first, *PLAN.groups[1:]))
    write_purchase_summary(tmp_path / "p.pdf", plan, BothUnits(), PageSize.A4)
    texts = recorders[0].texts
    assert any(text.startswith("Next best: only 5 bars of 3000 mm") for text in texts)
    # 165.20 - 100.00 = 65.20
    assert any(p.white and "65.20 XTS OVER" in p.text for p in recorders[0].printed)
    assert {"needed", "on hand", "reserve", "spare", "to order", "order by"} <= set(texts)


def test_an_order_of_nothing_says_so(tmp_path: Path, recorders: list[Recorder]) -> None:
    """A plan from the rack alone leaves no doubt that nothing was forgotten."""
    from_rack = tuple(bar for bar in PLAN.groups[3].bars if bar.offcut)
    plan = replace(PLAN, order=(), groups=(replace(PLAN.groups[3], bars=from_rack),), unplaced=())
    write_purchase_summary(tmp_path / "p.pdf", plan, BothUnits(), PageSize.A4)
    assert "Nothing to order." in recorders[0].texts
    assert "2 offcuts from the rack are cut besides." in recorders[0].texts


def test_without_prices_no_job_has_a_share_of_nothing(tmp_path: Path, recorders: list[Recorder]) -> None:
    """0.00 would say that the bars are free."""
    plan = replace(PLAN, groups=PLAN.groups[1:3], order=PLAN.order[1:3])
    write_purchase_summary(tmp_path / "p.pdf", plan, BothUnits(), PageSize.A4)
    texts = recorders[0].texts
    assert texts.count("no price") == 2 + len(PLAN.jobs)
    assert not any(text.endswith(" XTS") for text in texts)


def test_the_paper_of_a_re_plan_orders_nothing_twice(tmp_path: Path, recorders: list[Recorder]) -> None:
    """3 bars at 18.60 in all, two of them ordered with the plan before: one is still to order, for 18.60."""
    first, *rest = PLAN.order
    line = replace(first, ordered=2, reserve_used=1)
    # The others are ordered already: 1 + 7 + 6 bars.
    others = tuple(replace(one, ordered=one.bars) for one in rest)
    plan = replace(PLAN, order=(line, *others), follows="a" * 12, revision=1)
    write_purchase_summary(tmp_path / "p.pdf", plan, BothUnits(), PageSize.A4)
    texts = recorders[0].texts
    assert {"still to order", "in all", "ordered before", "still to pay"} <= set(texts)
    assert "Still to order 1 bar, 18.60 XTS" in texts
    assert any(p.white and "order only 1 bar" in p.text for p in recorders[0].printed)
    assert any(text.startswith("With what plans before have ordered, in all 17 bars") for text in texts)
    assert any(text.startswith("Used of the reserve") for text in texts)
