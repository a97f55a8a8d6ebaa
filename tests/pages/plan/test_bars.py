"""Pages of bars: alike ones once, those that hold what is looked for, the page of what is pointed at."""

from dataclasses import replace

import pytest

from api.pages.plan import bars as module
from api.pages.plan.bars import BarsPage, Card, bars_page, pointed_at
from api.pages.plan.choice import Choice
from nesting.domain.made import BarState as PlannedState
from nesting.reports.lengths import METRIC
from tests.reports.plans import example_plan

PLAN = example_plan()


def cards(page: BarsPage) -> list[Card]:
    return [card for shelf in page.shelves for card in shelf.cards]


def test_alike_bars_are_drawn_once() -> None:
    """Bars 12, 13 and 14 have the same cuts; all 19 bars and 38 pieces are counted."""
    page = bars_page(PLAN, Choice(), METRIC, {})
    assert (page.bars, page.different, page.pieces, page.at) == (19, 17, 38, 0)
    (alike,) = (card for card in cards(page) if card.count > 1)
    assert (alike.name, alike.pieces) == ("Bars 12-14", 6)
    assert [row.pieces for row in alike.rows] == [
        ("OY-305-1", "OY-305-3"),
        ("OY-404-1", "OY-404-3"),
        ("OY-405-1", "OY-405-3"),
    ]


def test_a_filter_leaves_the_bars_that_hold_anything_of_it() -> None:
    """Floor 4 is on bars 13, 14, 17, 18 and 19: 4 + 1 + 1 + 2 pieces; only these are marked."""
    page = bars_page(PLAN, Choice(floor="4"), METRIC, {})
    assert [card.name for card in cards(page)] == ["Bars 13-14", "Bar 17", "Bar 18", "Bar 19"]
    assert (page.bars, page.pieces) == (5, 8)
    assert [one.piece for one in cards(page)[1].stretches if one.wanted] == ["OY-404-4"]


def test_alike_bars_are_parted_by_where_the_wanted_piece_lies() -> None:
    """Bar 12 holds OY-305's pieces and its alike do not: it is drawn alone, marked."""
    page = bars_page(PLAN, Choice(unit="OY-305", material="TOLV-17N natural channel"), METRIC, {})
    assert [card.name for card in cards(page)] == ["Bar 12", "Bar 17", "Bar 18"]


def test_without_a_filter_nothing_is_marked() -> None:
    """A mark on everything says nothing."""
    page = bars_page(PLAN, Choice(), METRIC, {})
    assert not any(one.wanted for card in cards(page) for one in card.stretches)


def test_pointing_at_a_piece_opens_its_page(monkeypatch: pytest.MonkeyPatch) -> None:
    """Whoever follows a link to a piece sees its bar, on whichever page that is."""
    monkeypatch.setattr(module, "CARDS_A_PAGE", 5)
    page = bars_page(PLAN, Choice(piece="OY-404-3"), METRIC, {})
    assert (page.page, page.pages, page.at) == (3, 4, 12)  # card 12 is the 12th of 17, five a page
    (card,) = (card for card in cards(page) if card.number == 12)
    assert [row.number for row in card.rows if row.marked] == [13]
    assert [one.order for one in card.stretches if one.marked] == [2]


def test_a_page_behind_the_last_is_the_last(monkeypatch: pytest.MonkeyPatch) -> None:
    """An old link to page 9 is not an empty page."""
    monkeypatch.setattr(module, "CARDS_A_PAGE", 5)
    assert bars_page(PLAN, Choice(page=9), METRIC, {}).page == 4


def test_many_alike_bars_are_listed_when_asked_for(monkeypatch: pytest.MonkeyPatch) -> None:
    """A card lists the first few bars, and all of them once one is pointed at."""
    monkeypatch.setattr(module, "ROWS_A_CARD", 2)
    (few,) = (card for card in cards(bars_page(PLAN, Choice(), METRIC, {})) if card.count > 1)
    assert (len(few.rows), few.more) == (2, 1)
    (all_of_them,) = (card for card in cards(bars_page(PLAN, Choice(bar=12), METRIC, {})) if card.count > 1)
    assert (len(all_of_them.rows), all_of_them.more) == (3, 0)


def test_what_the_shop_has_done_is_counted() -> None:
    """Of the three alike bars one is cut; before a release nothing is said."""
    states = dict.fromkeys(range(1, 20), "open") | {13: "cut"}
    (card,) = (card for card in cards(bars_page(PLAN, Choice(), METRIC, states)) if card.count > 1)
    assert card.done == "1 of 3 cut"
    assert [row.state for row in card.rows] == ["open", "cut", "open"]
    (before,) = (card for card in cards(bars_page(PLAN, Choice(), METRIC, {})) if card.count > 1)
    assert before.done == ""


@pytest.mark.parametrize(
    ("twelve", "thirteen", "fourteen", "words"),
    [
        ("open", "open", "open", ""),
        ("cut", "cut", "cut", "cut"),
        ("cut", "defect", "missing", "1 of 3 cut, 1 defect, 1 missing"),
        ("missing", "open", "missing", "2 of 3 missing"),
    ],
)
def test_what_became_of_alike_bars(twelve: str, thirteen: str, fourteen: str, words: str) -> None:
    """Bars set aside are not counted as cut."""
    states = {12: twelve, 13: thirteen, 14: fourteen, 15: "defect"}
    shown = {card.number: card.done for card in cards(bars_page(PLAN, Choice(), METRIC, states))}
    assert (shown[12], shown[15]) == (words, "defect")


def test_a_material_is_drawn_to_one_scale() -> None:
    """BRASK's 3000 bars fill the width; TOLV's longest is 2500, so its 2000 bar fills four fifths."""
    ends = {
        card.number: float(card.stretches[-1].x) + float(card.stretches[-1].width)
        for card in cards(bars_page(PLAN, Choice(), METRIC, {}))
    }
    assert [ends[number] for number in (1, 12, 19)] == pytest.approx([100, 100, 80], abs=0.02)


def test_a_sliver_is_warned_of_at_its_bar() -> None:
    """Bar 11's last stroke has 2.5 mm to cut in, its kerf is 3."""
    (card,) = (card for card in cards(bars_page(PLAN, Choice(), METRIC, {})) if card.number == 11)
    assert any("LESS THAN A KERF" in said for said in card.warnings)


def test_what_is_pointed_at() -> None:
    """A piece is found on its bar; one that is left out, or unknown, on none."""
    assert pointed_at(PLAN, Choice(piece="OY-305-2")) == (18, 3)
    assert pointed_at(PLAN, Choice(bar=4)) == (4, 0)
    assert pointed_at(PLAN, Choice(piece="R-7")) == (0, 0)


def test_a_plan_without_bars_has_one_empty_page() -> None:
    """Nothing to cut is no fault."""
    page = bars_page(replace(PLAN, groups=()), Choice(), METRIC, {})
    assert (page.shelves, page.page, page.pages) == ((), 1, 1)


def test_bars_the_shop_has_cut_are_not_drawn_with_open_ones() -> None:
    """Of three bars cut alike one is done and one must not change: three cards, each with its state."""
    fate = {13: PlannedState.DONE, 14: PlannedState.FROZEN}
    groups = tuple(
        replace(group, bars=tuple(replace(bar, state=fate.get(bar.number, bar.state)) for bar in group.bars))
        for group in PLAN.groups
    )
    shown = {card.name: card for card in cards(bars_page(replace(PLAN, groups=groups), Choice(), METRIC, {}))}
    assert {"Bar 12", "Bar 13", "Bar 14"} <= shown.keys()
    assert [shown[f"Bar {n}"].rows[0].state for n in (12, 13, 14)] == ["", "done", "frozen"]
    assert [shown[f"Bar {n}"].stated for n in (12, 13, 14)] == [False, True, True]
