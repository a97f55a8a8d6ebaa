"""Tests of nesting.reports.plan_diff, bar_changes, request_changes and replan_words: whole texts."""

from __future__ import annotations

from dataclasses import replace

import pytest

from nesting.batch.run import plan_request
from nesting.domain.buying import BuyingRules, Spares
from nesting.domain.made import Span
from nesting.domain.plan import Alternative, Margins, Plan, PlannedBar
from nesting.domain.report import BarReport, Outcome
from nesting.domain.runs import PieceLine
from nesting.domain.stock import Offcut
from nesting.errors import Where
from nesting.money import read_money
from nesting.reports.bar_changes import bar_changes, placed_bars
from nesting.reports.plan_diff import cost_of_plan, listed, plan_diff
from nesting.reports.replan_words import (
    alternative_words,
    balance_words,
    offer_words,
    replan_words,
    urgent_words,
)
from nesting.reports.request_changes import request_changes
from nesting.units import mm, mm_text
from tests.batch.shop import again, bar_with, bars_of, done, order, planned

REQUEST = order({659: 3, 600: 3}, bars={2000: "11.40"})
LINE_659 = REQUEST.piece_lines[0]
PLAN = planned(REQUEST)


def renamed(plan: Plan, name: str) -> Plan:
    """Give a plan a short id, so that texts can be written down."""
    return replace(plan, id=name)


def test_a_plan_is_the_same_as_itself() -> None:
    """Nothing is said of what does not differ."""
    assert plan_diff(PLAN, PLAN) == ()
    slower = tuple(replace(group, seconds=9.0) for group in PLAN.groups)
    moved = tuple(replace(piece, where=Where("other.csv", "B7")) for piece in PLAN.pieces)
    assert plan_diff(PLAN, replace(PLAN, groups=slower, pieces=moved)) == ()


def test_what_is_told_beside_the_same_bars_is_named() -> None:
    """To read that groups differ told nobody that only the margins were looked for."""
    (group,) = PLAN.groups
    other = Alternative(bars=((mm(2500), 2),), cost=read_money("28.00"), proved=True)
    plain = replace(group, alternative=None, margins=Margins(kerf=mm("3.5"), bar=None))
    grown = replace(plain, margins=Margins(kerf=mm("3.5"), bar=None, growth=mm(8)), alternative=other)
    assert plan_diff(replace(PLAN, groups=(plain,)), replace(PLAN, groups=(grown,))) == (
        "F channel: next best now: only 2 bars of 2500 mm, 28.00 XTS, 5.20 XTS more; before: not told.",
        "F channel: margins now: these bars hold their cuts up to a kerf of 3.5 mm; every run may grow "
        "8 mm at no more cost; before: these bars hold their cuts up to a kerf of 3.5 mm.",
    )
    fewer = replace(plain, open_units=9)
    assert plan_diff(replace(PLAN, groups=(plain,)), replace(PLAN, groups=(fewer,))) == (
        "F channel differs in the units half finished at once.",
    )


def test_rows_in_another_order_are_no_difference() -> None:
    """Sorting a list is no revision, also where bars are named by their stock line's place."""
    request = order(
        {659: 4, 600: 3, 1100: 2}, bars={2000: "11.40", 2500: "14.00"}, offcuts={"A": 700, "B": 700}
    )
    turned = replace(
        request,
        piece_lines=request.piece_lines[::-1],
        stock=request.stock[::-1],
        offcuts=request.offcuts[::-1],
    )
    assert plan_diff(planned(request), planned(turned)) == ()


def test_a_run_more_is_told_with_its_bars_and_its_money() -> None:
    """What is asked for, what to order, what it costs, which bars: in this order."""
    line = PieceLine(job="yard", id="N", family="F", length=mm(1900))
    longer = plan_request(replace(REQUEST, piece_lines=(*REQUEST.piece_lines, line)))
    number = bar_with(longer, "N").number
    cuts = {n: [c.piece for c in bar.cuts] for n, bar in bars_of(PLAN).items()}
    shifted = [
        f"Bar {n} is bar {m} now, cut as before."
        for m, bar in bars_of(longer).items()
        for n, pieces in cuts.items()
        if pieces == [c.piece for c in bar.cuts] and n != m
    ]
    assert plan_diff(renamed(PLAN, "a" * 12), renamed(longer, "b" * 12)) == (
        "Plan aaaaaaaaaaaa is compared with plan bbbbbbbbbbbb.",
        "Line N of job yard is new, 1 x 1900 mm.",
        "1 piece is asked for now: N.",
        "Order 3 bars of 2000 mm F channel instead of 2: 1 more.",
        "The plan costs 34.20 XTS instead of 22.80 XTS: 11.40 more.",
        *shifted,
        f"Bar {number} (F channel, new 2000 mm: N) is new.",
    )


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"title": "Orrelbeck Yard"}, "Title: Orrelbeck Yard instead of none."),
        (
            {"saw": replace(REQUEST.saw, kerf=mm("3.2"), grip=mm(160))},
            "Saw: kerf 3.2 mm instead of 3 mm, grip 160 mm instead of 150 mm.",
        ),
        ({"cover_saw": REQUEST.saw}, "Cover saw: one of its own now."),
        (
            {"stock": (replace(REQUEST.stock[0], price=read_money("12.00"), count=40),)},
            "Stock F channel of 2000 mm: price 12.00 instead of 11.40, count 40 instead of none.",
        ),
        ({"stock": ()}, "Stock F channel of 2000 mm is gone."),
        ({"offcuts": (Offcut(tag="R-1", family="F", length=mm(900)),)}, "Offcut R-1 is new, 900 mm."),
        (
            {
                "piece_lines": (
                    replace(REQUEST.piece_lines[0], quantity=4, length=mm(660)),
                    REQUEST.piece_lines[1],
                )
            },
            "Line L659 of job yard: quantity 4 instead of 3, length 660 mm instead of 659 mm.",
        ),
        ({"piece_lines": REQUEST.piece_lines[1:]}, "Line L659 of job yard is gone."),
        (
            {"buying": replace(REQUEST.buying, fetch=read_money("1.50"))},
            "Buying: fetch 1.50 instead of 0.00.",
        ),
    ],
)
def test_parameters_and_rows_are_told_by_name(change: dict[str, object], words: str) -> None:
    """A dispute about a revision ends with the row and both values."""
    assert list(request_changes(REQUEST, replace(REQUEST, **change))) == [words]  # type: ignore[arg-type]


def test_many_rows_are_summed_up() -> None:
    """A list that is wholly new must not fill the screen."""
    lines = tuple(PieceLine(job="yard", id=f"N{n}", family="F", length=mm(500)) for n in range(20))
    said = list(request_changes(REQUEST, replace(REQUEST, piece_lines=(*REQUEST.piece_lines, *lines))))
    assert (len(said), said[-1]) == (13, "and 8 more changes of that kind (line).")


def hand_edited(plan: Plan, number: int, **changes: object) -> Plan:
    group = plan.groups[0]
    bars = tuple(
        replace(bar, **changes) if bar.number == number else bar  # type: ignore[arg-type]
        for bar in group.bars
    )
    return replace(plan, groups=(replace(group, bars=bars),))


def exchanged(plan: Plan) -> Plan:
    """Give the plan with the first pieces of its two bars exchanged."""
    one, two = plan.groups[0].bars
    first = replace(one, cuts=(two.cuts[0], *one.cuts[1:]))
    second = replace(two, cuts=(one.cuts[0], *two.cuts[1:]))
    return replace(plan, groups=(replace(plan.groups[0], bars=(first, second)),))


def test_moved_pieces_are_told_from_bar_to_bar() -> None:
    """Who holds a label must know where the piece is cut now."""
    a, b = (bar.cuts[0].piece for bar in PLAN.groups[0].bars)
    assert list(bar_changes(PLAN, exchanged(PLAN))) == [
        f"Bar 1 is cut without {a} and with {b}.",
        f"Bar 2 is cut without {b} and with {a}.",
        *sorted(
            [f"Piece {a} goes from bar 1 to bar 2.", f"Piece {b} goes from bar 2 to bar 1."],
            key=lambda said: said.split("bar ")[1],
        ),
    ]


def test_a_bar_edited_by_hand_is_named() -> None:
    """Also where every piece is where it was."""
    assert list(bar_changes(PLAN, hand_edited(PLAN, 2, strokes=9))) == [
        "Bar 2 is cut alike, but its trims, strokes or tail are not the same."
    ]
    turned: PlannedBar = bars_of(PLAN)[2]
    assert list(bar_changes(PLAN, hand_edited(PLAN, 2, cuts=turned.cuts[::-1]))) == [
        "Bar 2 is cut in another order or to other lengths."
    ]


def test_what_has_no_words_does_not_pass_for_equal() -> None:
    """Exit code 0 means the same plan, in every field."""
    assert plan_diff(PLAN, replace(PLAN, jobs=())) == ("The plans differ in: jobs.",)


def test_a_replan_in_words() -> None:
    """The whole text a planner sees after a mis-cut: balance, what the 612 becomes, what changed."""
    first = bar_with(PLAN, "L659.1")
    made = again(PLAN, done(first, L659_1=mm(612)))
    (offer,) = made.offers
    (became,) = offer.becomes
    home = bar_with(PLAN, became)
    tail = bars_of(made.plan)[first.number]
    new = bar_with(made.plan, became)
    choices = ", ".join(f"{choice.piece} (600 mm)" for choice in offer.choices)
    left, was = mm_text(tail.tail_left), mm_text(tail.tail)
    born = {offcut.tag: offcut.length for offcut in made.plan.request.offcuts}
    assert replan_words(PLAN, made.plan, made.offers, made.alternative) == (
        "6 pieces are ordered: 2 done, 4 planned, 0 short.",
        f"This 612 mm ({offer.tag}, from L659.1 of bar {first.number}) becomes {became}.",
        f"This 612 mm ({offer.tag}, from L659.1 of bar {first.number}) can become {choices}.",
        f"Plan {made.plan.id}, revision 1, follows plan {PLAN.id}.",
        *(f"Offcut {tag} is new, {mm_text(length)} mm." for tag, length in sorted(born.items())),
        f"Bar {first.number} is done.",
        f"Bar {first.number} left a tail of {left} mm, {was} mm was planned.",
        f"Bar {first.number}: piece L659.1 came out as 612 mm, now {offer.tag}.",
        f"Bar {home.number} is cut without {became} and with L659.1.",
        f"Bar {new.number} (F channel, offcut {offer.tag}: {became}) is new.",
        *(
            text
            for _, text in sorted(
                [
                    (first.number, f"Piece L659.1 goes from bar {first.number} to bar {home.number}."),
                    (home.number, f"Piece {became} goes from bar {home.number} to bar {new.number}."),
                ]
            )
        ),
        f"Where plan {PLAN.id} is ordered already, nothing more is to be ordered.",
    )


def test_a_placed_order_is_only_added_to() -> None:
    """Three bars of one piece each are ordered; a spoiled 1460 that becomes nothing takes a fourth."""
    plan = planned(order({1460: 3}, bars={2000: "11.40"}))
    made = again(plan, done(1, L1460_1=mm(1400)))
    assert (
        f"Where plan {plan.id} is ordered already, order only 1 bar of 2000 mm F channel more, 11.40 XTS."
    ) in replan_words(plan, made.plan, made.offers, made.alternative)


def test_a_reserve_bar_that_is_cut_is_told() -> None:
    """Whoever counts the bars in the shop must know that one of the reserve is gone, at no more cost."""
    rules = BuyingRules(spares=Spares(bars=2))
    plan = planned(replace(order({1460: 3}, bars={2000: "11.40"}), buying=rules))
    made = again(plan, done(1, L1460_1=mm(1400)))
    assert replan_words(plan, made.plan, made.offers, made.alternative)[-2:] == (
        f"Where plan {plan.id} is ordered already, nothing more is to be ordered.",
        "Used of the reserve, at no more cost: 1 of 2 reserve bars of 2000 mm F channel.",
    )


def test_a_stopped_bar_stays_itself_when_its_pieces_are_planned_again() -> None:
    """Bar 1 was given up before its first cut: it is not new, the bar that takes its place is."""
    plan = planned(order({659: 6}, bars={2000: "11.40"}))
    hurt = BarReport(bar=1, outcome=Outcome.STOPPED, defects=(Span(mm(100), mm(1900)),))
    made = again(plan, hurt).plan
    pieces = ", ".join(cut.piece for cut in bars_of(plan)[1].cuts)
    said = list(bar_changes(plan, made))
    assert said[:3] == [
        "Bar 1 is stopped.",
        "Bar 1 is damaged from 100 mm to 1900 mm.",
        f"Nothing was cut from bar 1; planned again: {pieces}.",
    ]
    assert said[3] == f"Bar 3 (F channel, new 2000 mm: {pieces}) is new."


def test_a_bar_stopped_half_way_says_how_far_it_came() -> None:
    """One of three cuts was made; the other two pieces are planned again."""
    plan = planned(order({659: 6}, bars={2000: "11.40"}))
    hurt = BarReport(bar=1, outcome=Outcome.STOPPED, made=1, defects=(Span(mm(700), mm(1900)),))
    first, *rest = (cut.piece for cut in bars_of(plan)[1].cuts)
    said = list(bar_changes(plan, again(plan, hurt).plan))
    assert f"Bar 1 was stopped after 1 of 3 cuts; planned again: {', '.join(rest)}." in said
    assert not any(f"without {first}" in sentence for sentence in said)


def test_an_urgent_piece_does_not_wait_for_its_bars_number() -> None:
    """The new bar is the last by its number; its piece is wanted before those of the open ones."""
    rush, rest = order({1460: 1}, bars={}).piece_lines[0], order({1400: 3}, bars={}).piece_lines
    request = order({1460: 1}, bars={2000: "11.40"})
    plan = planned(replace(request, piece_lines=(replace(rush, priority=5), *rest)))
    first = bar_with(plan, "L1460.1")
    made = again(plan, done(first, L1460_1=mm(1000)))
    new = bar_with(made.plan, "L1460.1").number
    waiting = min(n for n in bars_of(plan) if n != first.number)
    assert new > waiting
    said = f"Cut bar {new} before bar {waiting}: L1460.1 is wanted first."
    assert list(urgent_words(plan, made.plan)) == [said]
    calm = again(plan, done(waiting, **{bars_of(plan)[waiting].cuts[0].piece.replace(".", "_"): mm(1000)}))
    assert list(urgent_words(plan, calm.plan)) == []


def test_damage_and_loss_in_words() -> None:
    """Every reported thing is said once."""
    plan = planned(order({659: 3}, bars={2000: "11.40"}))
    hurt = BarReport(bar=1, outcome=Outcome.STOPPED, made=1, defects=(Span(mm(1500), mm(1510)),))
    said = list(bar_changes(plan, again(plan, hurt).plan))
    assert said[:3] == [
        "Bar 1 is stopped.",
        "Bar 1 is damaged from 1500 mm to 1510 mm.",
        "Bar 1 was stopped after 1 of 3 cuts; planned again: L659.2, L659.3.",
    ]


def test_the_fresh_plans_price_is_said() -> None:
    """The planner reads what the change would save, and how much it would change."""
    request = order({1200: 3, 659: 6, 600: 4}, bars={2000: "11.40", 2500: "14.00"}, offcuts={"R-1": 1250})
    plan = planned(request)
    made = again(plan, done(bar_with(plan, "L1200.2"), L1200_2=mm(612)))
    assert made.alternative is not None
    kept, fresh = cost_of_plan(made.plan), cost_of_plan(made.alternative)
    (said,) = alternative_words(plan, made.plan, made.alternative)
    assert said.startswith(
        f"A fresh plan of everything open would cost {fresh / 10_000:.2f} XTS instead of "
        f"{kept / 10_000:.2f} XTS, {(kept - fresh) / 10_000:.2f} less; it would change "
    )
    assert said.endswith("Take it with --freely.")


def test_a_spoiled_piece_nobody_can_use() -> None:
    """It is said too, so that nobody looks for a use."""
    plan = planned(order({659: 3}, bars={2000: "11.40"}))
    made = again(plan, done(1, L659_1=mm(500)))
    assert list(offer_words(made.offers[0])) == [
        f"This 500 mm ({made.offers[0].tag}, from L659.1 of bar 1) can become no open piece."
    ]
    assert balance_words(made.plan) == "3 pieces are ordered: 2 done, 1 planned, 0 short."


def test_placed_bars_and_lists() -> None:
    """Bars come in the order of their numbers; long lists end in a number."""
    assert [one.bar.number for one in placed_bars(PLAN)] == [1, 2]
    assert listed(["a", "b"]) == "a, b"
    assert listed([str(n) for n in range(10)], 3) == "0, 1, 2 and 7 more"


def test_a_cheaper_fresh_plan_says_what_it_leaves_over() -> None:
    """Fewer bars save money only as long as they are not ordered; three are, the fresh plan needs two."""
    plan = planned(order({1460: 3}, bars={2000: "11.40"}))
    line = replace(plan.order[0], ordered=3)
    after = replace(plan, order=(line,), follows=plan.id, revision=1)
    fresh = replace(
        after,
        order=(replace(line, bars=2),),
        groups=(replace(plan.groups[0], cost=plan.groups[0].cost - 114_000),),
    )
    (said,) = alternative_words(plan, after, fresh)
    assert said.endswith(
        f"Take it with --freely. With it: where plan {plan.id} is ordered already, "
        "nothing more is to be ordered; "
        "1 bar of 2000 mm F channel will be left over."
    )
