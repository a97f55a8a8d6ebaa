"""Going on from a plan at the saw: what is done stays, the rest changes as little as it can."""

from __future__ import annotations

import json
from dataclasses import replace
from typing import Any

from sqlalchemy import delete

from api.store.documents import DocumentKind, put_document
from api.store.models import DocumentRow
from benchmarks.service.invariants import broken
from nesting.domain.made import BarState
from nesting.domain.plan import Plan
from nesting.exchange import read_plan, write_plan
from nesting.verify import violations
from tests.api.plans.test_life import release, report
from tests.api.problems import problem
from tests.api.service import Running, pieces_request
from tests.api.shelving import add_offcut, add_shelf, balance, offcut, shelf


def again(service: Running, plan: str, **query: Any) -> dict[str, Any]:
    """Plan a plan again; give the new one."""
    answer = service.client.post(f"/v1/plans/{plan}/replan", params=query)
    assert answer.status_code == 202, answer.text
    service.make_plans()
    made = service.plan(answer.json()["id"])
    assert made["state"] == "proposed", made["fault"]
    assert not violations(result(service, made["id"]))
    return made


def result(service: Running, plan: str) -> Plan:
    """Give a plan's whole result."""
    return read_plan(service.client.get(f"/v1/plans/{plan}/result").text)


def bars(service: Running, plan: str) -> dict[int, Any]:
    """Give the planned bars by number."""
    return {bar.number: bar for group in result(service, plan).groups for bar in group.bars}


def cuts(service: Running, plan: str, number: int) -> list[str]:
    """Give the pieces of one bar in the order of the saw."""
    return [cut["piece"] for cut in service.client.get(f"/v1/plans/{plan}/bars/{number}").json()["cuts"]]


def test_cut_and_open_bars_stay_and_only_the_spoiled_piece_moves(either: Running) -> None:
    """The shop has labels and half a building in its hands: a mis-cut must not turn the plan round."""
    add_shelf(either, 2500)
    # Four pieces a bar (8 + 4 x 610 + 3 x 3 + 8 = 2465), two bars, tails of 40: no room for a fifth.
    plan = either.proposed(pieces_request({610: 8}, bars=()))
    release(either, plan)
    spoiled = cuts(either, plan, 1)[2]
    report(either, plan, 1, spoiled=[spoiled])
    before = bars(either, plan)
    made = again(either, plan)
    after = bars(either, made["id"])
    assert after[1].state is BarState.DONE
    assert (after[1].cuts, after[2]) == (before[1].cuts, before[2])
    assert [cut.piece for cut in after[3].cuts] == [spoiled]
    assert (made["summary"]["pieces"], made["summary"]["pieces_done"]) == (8, 3)
    assert (made["parent"], made["summary"]["revision"]) == (plan, 1)
    release(either, made["id"])
    rows = either.client.get(f"/v1/plans/{made['id']}/bars").json()
    assert [(bar["number"], bar["state"]) for bar in rows] == [(1, "cut"), (2, "open"), (3, "open")]
    assert rows[0]["reported_by"] == "this machine"
    for number in (2, 3):
        report(either, made["id"], number)
    assert either.plan(made["id"])["state"] == "finished"
    assert balance(either)["good"] == 8 * 610


def test_a_bar_cut_before_takes_nothing_again(either: Running) -> None:
    """The follower's release keeps bars for what is open alone; the metal of the cut ones is gone already."""
    shelf_id = add_shelf(either, 2500, on_hand=5)
    plan = either.proposed(pieces_request({610: 8}, bars=()))
    release(either, plan)
    report(either, plan, 1, spoiled=cuts(either, plan, 1)[:1])
    made = again(either, plan)
    release(either, made["id"])
    # Five less the one that was cut; two of the four are kept for bars 2 and 3.
    stands = shelf(either, shelf_id)
    assert (stands["free"], stands["holds"]) == (2, [{"plan": made["id"], "bars": 2}])


def test_what_came_out_is_offered_and_becomes_another_piece(either: Running) -> None:
    """A piece that came out short goes on the rack, and the next plan cuts a shorter one of it."""
    add_shelf(either, 2500)
    # Tail: 2500 - 8 - 2 x 610 - 450 - 3 x 3 = 813. It holds the 610 that is made again, then no 450.
    plan = either.proposed(pieces_request({610: 2, 450: 1}, bars=()))
    release(either, plan)
    long = [piece for piece in cuts(either, plan, 1) if "610" in piece]
    short = next(piece for piece in cuts(either, plan, 1) if "450" in piece)
    miscut = {"piece": long[0], "length": "470 mm"}
    said = report(either, plan, 1, spoiled=[short], miscuts=[miscut])
    assert said["kept"] == {long[0]: "P1-1S1"}
    kept = offcut(either, "P1-1S1")
    assert (kept["state"], kept["length"]["nm"], kept["right"]) == ("free", 470_000_000, "clean")
    balance(either)
    made = again(either, plan)
    offers = made["summary"]["offers"]
    assert [(one["tag"], one["piece"], one["becomes"]) for one in offers] == [("P1-1S1", long[0], [short])]
    # 470 - 450 = 20, less a stroke of 3.
    assert offers[0]["choices"] == [
        {
            "piece": short,
            "length": {"nm": 450_000_000, "text": "450 mm"},
            "left": {"nm": 17_000_000, "text": "17 mm"},
        }
    ]
    release(either, made["id"])
    assert offcut(either, "P1-1S1")["plan"] == made["id"]
    number = next(n for n, bar in bars(either, made["id"]).items() if bar.source == "P1-1S1")
    report(either, made["id"], number)
    assert offcut(either, "P1-1S1")["state"] == "cut"
    balance(either)


def spoiled_short(service: Running) -> tuple[str, str, str]:
    """
    Report a 610 that came out at 395, below the keep length of 400, and a 390 that is lost.

    Give the plan and the two pieces. 8 + 2 x 610 + 390 + 300 + 4 x 3 = 1930 of 2500. The tail,
    570 + 610 - 395 = 785, holds the 610 that is made again, then no 390.
    """
    add_shelf(service, 2500)
    plan = service.proposed(pieces_request({610: 2, 390: 1, 300: 1}, bars=()))
    release(service, plan)
    long = next(piece for piece in cuts(service, plan, 1) if "610" in piece)
    lost = next(piece for piece in cuts(service, plan, 1) if "390" in piece)
    said = report(service, plan, 1, spoiled=[lost], miscuts=[{"piece": long, "length": "395 mm"}])
    assert (said["kept"], said["short"]) == ({long: "P1-1S1"}, ["P1-1S1"])
    return plan, long, lost


def test_a_miscut_below_the_keep_length_is_scrap_to_everybody_else(either: Running) -> None:
    """It is on no rack and lent to no other plan; its metal is counted as scrap."""
    plan, _, _ = spoiled_short(either)
    assert offcut(either, "P1-1S1")["state"] == "scrapped"
    # Scrap are the 390 and the 395; nothing is a measuring difference.
    sums = balance(either)
    assert (sums["scrap"], sums["store"], sums["measure"]) == (390 + 395, 785, 0)
    other = either.proposed(pieces_request({391: 1}, bars=(), job="WK"))
    assert "P1-1S1" not in either.client.get(f"/v1/plans/{other}/result").text
    asked = pieces_request({391: 1}, job="WK")
    with_it = json.loads(asked) | {
        "offcuts": [
            {"tag": "P1-1S1", "family": "TOLV-17N", "finish": "natural", "length": "395 mm", "right": "clean"}
        ]
    }
    theirs = either.proposed(json.dumps(with_it))
    refused = either.client.post(f"/v1/plans/{theirs}/release")
    assert (problem(refused, 409), refused.json()["conflicts"][0]["state"]) == ("stock-conflict", "scrapped")
    either.client.post(f"/v1/plans/{plan}/withdraw")
    assert offcut(either, "P1-1S1")["state"] == "scrapped"
    assert broken(either.store) == []


def test_a_short_miscut_that_is_of_no_use_is_told_under_its_own_tag(service: Running) -> None:
    """The offer names the tag that the shop has written on the piece, also where nothing is cut of it."""
    add_shelf(service, 2500)
    plan = service.proposed(pieces_request({610: 2}, bars=()))
    release(service, plan)
    report(service, plan, 1, miscuts=[{"piece": cuts(service, plan, 1)[0], "length": "395 mm"}])
    made = again(service, plan)
    assert [(one["tag"], one["becomes"]) for one in made["summary"]["offers"]] == [("P1-1S1", [])]
    release(service, made["id"])
    assert offcut(service, "P1-1S1")["state"] == "scrapped"
    assert broken(service.store) == []


def test_a_short_miscut_becomes_an_open_piece_of_its_own_plan(either: Running) -> None:
    """It is offered however short it is; what is cut of it leaves the scrap, and comes back when given up."""
    plan, long, lost = spoiled_short(either)
    made = again(either, plan)
    offers = made["summary"]["offers"]
    assert [(one["tag"], one["piece"], one["becomes"]) for one in offers] == [("P1-1S1", long, [lost])]
    release(either, made["id"])
    assert (offcut(either, "P1-1S1")["state"], offcut(either, "P1-1S1")["plan"]) == ("reserved", made["id"])
    assert broken(either.store) == []
    # Planned again before it is cut, the bar that is cut of it stays as it is.
    third = again(either, made["id"])
    assert offcut(either, "P1-1S1")["state"] == "scrapped"
    assert broken(either.store) == []
    release(either, third["id"])
    number = next(n for n, bar in bars(either, third["id"]).items() if bar.source == "P1-1S1")
    report(either, third["id"], number)
    assert offcut(either, "P1-1S1")["state"] == "cut"
    # 395 = 390 + 3 + 2; scrap are the lost 390 and the 2.
    assert balance(either)["scrap"] == 390 + 2
    assert broken(either.store) == []


def test_a_short_miscut_of_a_withdrawn_follower_is_scrap_again(either: Running) -> None:
    """Nothing shorter than the keep length is left on the rack when its plan is given up."""
    plan, _, _ = spoiled_short(either)
    made = again(either, plan)["id"]
    release(either, made)
    either.client.post(f"/v1/plans/{made}/withdraw")
    assert offcut(either, "P1-1S1")["state"] == "scrapped"
    assert balance(either)["scrap"] == 390 + 395
    assert [one["tag"] for one in either.client.get("/v1/offcuts?state=free").json()] == ["P1-1"]
    once_more = again(either, made)
    release(either, once_more["id"])
    assert offcut(either, "P1-1S1")["plan"] == once_more["id"]
    assert broken(either.store) == []


def test_a_piece_that_came_out_long_leaves_a_shorter_tail(either: Running) -> None:
    """What one piece has too much the tail has too little, unless the tape says otherwise."""
    add_shelf(either, 2500)
    plan = either.proposed(pieces_request({610: 2}, bars=()))
    release(either, plan)
    first = cuts(either, plan, 1)[0]
    # Tail as planned 1266; 15 mm too long a piece leaves 1251.
    report(either, plan, 1, miscuts=[{"piece": first, "length_nm": 625_000_000}])
    assert offcut(either, "P1-1")["length"]["nm"] == 1_251_000_000
    balance(either)


def test_a_miscut_is_refused_where_it_cannot_be(service: Running) -> None:
    """A length above the bar's, a piece named twice, or of a bar that was not cut: somebody is mistaken."""
    plan = service.proposed(pieces_request({610: 2}))
    release(service, plan)
    piece = cuts(service, plan, 1)[0]
    path = f"/v1/plans/{plan}/bars/1/report"
    long = {"outcome": "cut", "miscuts": [{"piece": piece, "length": "2600 mm"}]}
    assert problem(service.client.post(path, json=long), 422) == "report-not-possible"
    twice = {"outcome": "cut", "spoiled": [piece], "miscuts": [{"piece": piece, "length": "600 mm"}]}
    assert problem(service.client.post(path, json=twice), 422) == "not-valid"
    uncut = {"outcome": "defect", "miscuts": [{"piece": piece, "length": "600 mm"}]}
    assert problem(service.client.post(path, json=uncut), 422) == "not-valid"


def test_the_same_miscut_reported_twice_changes_nothing(service: Running) -> None:
    """A lost answer is asked for again, and no second offcut is born of it."""
    plan = service.proposed(pieces_request({610: 2}))
    release(service, plan)
    said = {"miscuts": [{"piece": cuts(service, plan, 1)[0], "length": "600 mm"}]}
    assert report(service, plan, 1, **said) == report(service, plan, 1, **said)
    assert [one["tag"] for one in service.client.get("/v1/offcuts").json()] == ["P1-1", "P1-1S1"]


def test_a_tail_that_somebody_else_has_is_not_planned_on(either: Running) -> None:
    """The tail is on the rack for everybody: whoever reserves it first has it."""
    add_shelf(either, 2500)
    plan = either.proposed(pieces_request({610: 2}, bars=()))
    release(either, plan)
    report(either, plan, 1, spoiled=cuts(either, plan, 1)[:1])
    other = either.proposed(pieces_request({700: 1}, bars=(), job="WK"))
    release(either, other)
    assert offcut(either, "P1-1")["plan"] == other
    made = again(either, plan)
    assert all(bar.source != "P1-1" for bar in bars(either, made["id"]).values())
    release(either, made["id"])


def test_a_tail_of_its_own_is_used_before_a_new_bar(either: Running) -> None:
    """The rest of the very bar that was mis-cut is nearest at hand."""
    add_shelf(either, 2500)
    plan = either.proposed(pieces_request({610: 2}, bars=()))
    release(either, plan)
    report(either, plan, 1, spoiled=cuts(either, plan, 1)[:1])
    made = again(either, plan)
    assert bars(either, made["id"])[2].source == "P1-1"
    release(either, made["id"])
    report(either, made["id"], 2)
    assert either.plan(made["id"])["state"] == "finished"
    balance(either)


def test_a_frozen_bar_stays_even_where_all_may_be_planned_afresh(service: Running) -> None:
    """What lies on the saw is not exchanged under the operator's hands."""
    add_shelf(service, 2500)
    plan = service.proposed(pieces_request({610: 12}, bars=()))
    release(service, plan)
    report(service, plan, 1, spoiled=cuts(service, plan, 1)[:1])
    before = bars(service, plan)
    made = again(service, plan, frozen=[3], freely=True)
    frozen = bars(service, made["id"])[3]
    assert (frozen.state, frozen.cuts) == (BarState.FROZEN, before[3].cuts)
    release(service, made["id"])
    assert report(service, made["id"], 3)["state"] == "cut"


def test_only_an_open_bar_can_be_frozen(service: Running) -> None:
    """A bar that was cut, or that the plan has not, is a slip of whoever asks."""
    plan = service.proposed(pieces_request({610: 8}))
    release(service, plan)
    report(service, plan, 1)
    for number in (1, 9):
        refused = service.client.post(f"/v1/plans/{plan}/replan", params={"frozen": number})
        assert problem(refused, 422) == "bar-not-open"


def test_bars_with_a_defect_or_missing_are_replaced(either: Running) -> None:
    """A dented bar and one that is not there are paid for; their pieces get new bars."""
    shelf_id = add_shelf(either, 2500, on_hand=9)
    add_offcut(either, "FL-1", 1300)
    plan = either.proposed(pieces_request({610: 14}, bars=()))
    release(either, plan)
    numbers = {bar.number for bar in bars(either, plan).values() if not bar.offcut}
    dented, missing, whole = sorted(numbers)
    rack = next(bar.number for bar in bars(either, plan).values() if bar.offcut)
    report(either, plan, dented, outcome="defect", note="dent")
    report(either, plan, missing, outcome="missing")
    report(either, plan, rack, outcome="missing")
    made = again(either, plan)
    after = bars(either, made["id"])
    assert rack not in after
    assert {after[dented].state, after[missing].state} == {BarState.STOPPED}
    assert after[whole].state is BarState.OPEN
    release(either, made["id"])
    rows = either.client.get(f"/v1/plans/{made['id']}/bars").json()
    assert {bar["number"]: bar["state"] for bar in rows if bar["state"] != "open"} == {
        dented: "defect",
        missing: "missing",
    }
    for bar in rows:
        if bar["state"] == "open":
            report(either, made["id"], bar["number"])
    assert either.plan(made["id"])["state"] == "finished"
    assert balance(either)["good"] == 14 * 610
    assert shelf(either, shelf_id)["quarantined"] == 1


def test_a_bar_given_up_after_a_cut_keeps_what_was_made(either: Running) -> None:
    """What is ticked off stays made and is not sawn twice; what is good of the rest is used before new metal.

    2500 - 8 - 610 - 3 = 1879 lie behind the first cut; 1300 of them are good: 1300 - 8 holds two of 610.
    """
    shelf_id = add_shelf(either, 2500, on_hand=4)
    plan = either.proposed(pieces_request({610: 8}, bars=()))
    release(either, plan)
    first, *others = cuts(either, plan, 1)
    said = {"outcome": "defect", "made": 1, "tail": "1300 mm", "note": "dent"}
    bar = report(either, plan, 1, **said)
    assert (bar["state"], bar["born"], bar["open_pieces"]) == ("cut", "P1-1", others)
    assert report(either, plan, 1, **said) == bar
    assert offcut(either, "P1-1")["length"]["text"] == "1300 mm"
    stands = shelf(either, shelf_id)
    assert (stands["free"], stands["reserved"], stands["quarantined"]) == (2, 1, 0)
    assert either.plan(plan)["state"] == "in cutting"
    made = again(either, plan)
    after = bars(either, made["id"])
    sawn = [cut.piece for number, one in after.items() if number != 1 for cut in one.cuts]
    assert first not in sawn
    assert sorted(sawn) == sorted([*others, *cuts(either, plan, 2)])
    assert len([one for one in after.values() if one.source == "P1-1"]) == 1
    release(either, made["id"])
    for one in either.client.get(f"/v1/plans/{made['id']}/bars").json():
        if one["state"] == "open":
            report(either, made["id"], one["number"])
    assert either.plan(made["id"])["state"] == "finished"
    assert balance(either)["good"] == 8 * 610


def test_a_defect_seen_before_the_first_cut_leaves_the_good_end(either: Running) -> None:
    """A dent at one end costs that end, not the bar."""
    add_shelf(either, 2500, on_hand=4)
    plan = either.proposed(pieces_request({610: 4}, bars=()))
    release(either, plan)
    bar = report(either, plan, 1, outcome="defect", tail="1900 mm")
    assert (bar["state"], bar["born"]) == ("cut", "P1-1")
    assert bar["open_pieces"] == cuts(either, plan, 1)
    made = again(either, plan)
    release(either, made["id"])
    assert {one.source for one in bars(either, made["id"]).values() if one.offcut} == {"P1-1"}


def test_a_bar_whose_rest_is_all_damaged_leaves_no_offcut(either: Running) -> None:
    """Nothing is planned on metal that nobody called good."""
    add_shelf(either, 2500, on_hand=4)
    plan = either.proposed(pieces_request({610: 5}, bars=()))
    release(either, plan)
    short = next(n for n, one in bars(either, plan).items() if len(one.cuts) == 4)
    bar = report(either, plan, short, outcome="defect", made=2)
    assert (bar["born"], bar["open_pieces"]) == (None, cuts(either, plan, short)[2:])
    made = again(either, plan)
    release(either, made["id"])
    assert not [one for one in bars(either, made["id"]).values() if one.offcut]
    assert either.client.get("/v1/offcuts").json() == []


def test_cuts_made_that_a_bar_does_not_have_are_refused(service: Running) -> None:
    """A slip of the finger takes no metal out of the store."""
    plan = service.proposed(pieces_request({610: 4}))
    release(service, plan)
    path = f"/v1/plans/{plan}/bars/1/report"
    all_made = {"outcome": "defect", "made": 4, "tail": "40 mm"}
    assert problem(service.client.post(path, json=all_made), 422) == "report-not-possible"
    for wrong in ({"outcome": "cut", "made": 1}, {"outcome": "missing", "tail": "40 mm"}):
        assert problem(service.client.post(path, json=wrong), 422) == "not-valid"
    assert service.client.get(f"/v1/plans/{plan}/bars/1").json()["state"] == "open"


def test_the_jobs_pay_what_all_the_bars_really_cost(either: Running) -> None:
    """One bar more because of a mis-cut: old and new plan together come to the whole bill."""
    either.client.post(
        "/v1/stock", json={"family": "TOLV-17N", "finish": "natural", "length": "2500 mm", "price": "10"}
    )
    plan = either.proposed(pieces_request({610: 8}, bars=()))
    release(either, plan)
    report(either, plan, 1, spoiled=cuts(either, plan, 1)[:1])
    made = again(either, plan)
    job = either.client.get("/v1/jobs?name=OY").json()[0]
    # Bar 1 was cut: 10.00, three good pieces; the rest is only proposed.
    assert (job["pieces"], list(job["cost"].values())) == (3, ["10.00"])
    release(either, made["id"])
    job = either.client.get("/v1/jobs?name=OY").json()[0]
    assert (job["pieces"], job["done"], list(job["cost"].values())) == (8, 3, ["30.00"])


def test_a_follower_can_be_followed(either: Running) -> None:
    """Mis-cuts come in a row: each plan goes on from the one before, and nothing is counted twice."""
    add_shelf(either, 2500)
    plan = either.proposed(pieces_request({610: 8}, bars=()))
    release(either, plan)
    report(either, plan, 1, spoiled=cuts(either, plan, 1)[:1])
    second = again(either, plan)["id"]
    release(either, second)
    report(either, second, 2, spoiled=cuts(either, second, 2)[1:2])
    third = again(either, second)["id"]
    release(either, third)
    rows = either.client.get(f"/v1/plans/{third}/bars").json()
    assert [bar["state"] for bar in rows] == ["cut", "cut", "open"]
    report(either, third, 3)
    job = either.client.get("/v1/jobs?name=OY").json()[0]
    assert (job["pieces"], job["done"], job["status"]) == (8, 8, "finished")
    assert balance(either)["good"] == 8 * 610
    assert broken(either.store) == []


def test_a_proposed_follower_planned_anew_cuts_nothing_twice(either: Running) -> None:
    """When somebody else took what it counted on, what was cut before is still not asked for again."""
    add_shelf(either, 2500)
    add_offcut(either, "FL-1", 700)
    plan = either.proposed(pieces_request({610: 4}, bars=()))
    release(either, plan)
    missing = next(n for n, bar in bars(either, plan).items() if bar.offcut)
    done = next(n for n in bars(either, plan) if n != missing)
    report(either, plan, done)
    second = again(either, plan)["id"]
    other = either.proposed(pieces_request({650: 1}, bars=(), job="WK"))
    release(either, other)
    assert problem(either.client.post(f"/v1/plans/{second}/release"), 409) == "stock-conflict"
    third = again(either, second)
    assert either.plan(second)["state"] == "withdrawn"
    assert (third["summary"]["pieces"], third["summary"]["pieces_done"]) == (4, 3)
    release(either, third["id"])
    assert offcut(either, "FL-1")["plan"] == other


def test_bars_are_listed_as_they_are_cut_not_by_their_numbers(service: Running) -> None:
    """A plan after a report may cut its open bars in another order: 3 before 2, page by page too."""
    add_shelf(service, 2500)
    plan = service.proposed(pieces_request({610: 8}, bars=()))
    release(service, plan)
    report(service, plan, 1, spoiled=[cuts(service, plan, 1)[2]])
    made = again(service, plan)["id"]
    with service.store.write() as session:
        found = result(service, made)
        groups = tuple(replace(one, bars=(one.bars[0], *one.bars[:0:-1])) for one in found.groups)
        session.execute(
            delete(DocumentRow).where(
                DocumentRow.plan_id == made, DocumentRow.kind == DocumentKind.RESULT.value
            )
        )
        put_document(session, made, DocumentKind.RESULT, write_plan(replace(found, groups=groups)))
    release(service, made)
    path = f"/v1/plans/{made}/bars"
    assert [bar["number"] for bar in service.client.get(path).json()] == [1, 3, 2]
    first = service.client.get(path, params={"limit": 2})
    assert [bar["number"] for bar in first.json()] == [1, 3]
    rest = service.client.get(first.links["next"]["url"])
    assert ([bar["number"] for bar in rest.json()], "Link" in rest.headers) == ([2], False)
    still_open = service.client.get(path, params={"state": "open", "limit": 1})
    assert [bar["number"] for bar in still_open.json()] == [3]


def test_a_plan_that_was_planned_again_names_what_has_taken_its_place(service: Running) -> None:
    """It is called finished, since it was cut in part; a program must not take it for made."""
    add_shelf(service, 2500)
    plan = service.proposed(pieces_request({610: 8}, bars=()))
    release(service, plan)
    report(service, plan, 1, spoiled=[cuts(service, plan, 1)[2]])
    assert service.plan(plan)["replaced_by"] is None
    made = again(service, plan)
    old = service.plan(plan)
    assert (old["state"], old["replaced_by"]) == ("finished", {"id": made["id"], "number": made["number"]})
    assert made["replaced_by"] is None
    listed = {one["id"]: one["replaced_by"] for one in service.client.get("/v1/plans").json()}
    assert listed == {plan: old["replaced_by"], made["id"]: None}
