"""Many at once after the same few things: each is given away once, and every loser hears to whom."""

import json
from collections import Counter
from concurrent.futures import ThreadPoolExecutor

from benchmarks.service.invariants import broken
from tests.api.service import Running, pieces_request
from tests.api.shelving import add_offcut, offcut

CLIENTS, OFFCUTS = 64, 20


def wants(tag: str, job: str) -> str:
    """Give a request that can only be made from this one offcut."""
    body = json.loads(pieces_request({610: 2}, bars=(), job=job))
    line = body["piece_lines"][0]
    body["offcuts"] = [
        {
            "tag": tag,
            "family": line["family"],
            "finish": line["finish"],
            "part": "channel",
            "length_nm": 1_300_000_000,
            "left": "clean",
            "right": "clean",
        }
    ]
    return json.dumps(body)


def test_64_clients_fight_for_20_offcuts(either: Running) -> None:
    """Twenty win one each; forty-four get a 409 that names the plan that has the offcut."""
    tags = [f"FL-{number}" for number in range(OFFCUTS)]
    for tag in tags:
        add_offcut(either, tag, 1300)
    plans = [either.send(wants(tags[n % OFFCUTS], f"J{n}")).json()["id"] for n in range(CLIENTS)]
    assert either.make_plans() == CLIENTS
    with ThreadPoolExecutor(CLIENTS) as crowd:
        answers = list(crowd.map(lambda plan: either.client.post(f"/v1/plans/{plan}/release"), plans))
    assert Counter(answer.status_code for answer in answers) == {200: OFFCUTS, 409: CLIENTS - OFFCUTS}
    winners = {tags[n % OFFCUTS]: plans[n] for n, answer in enumerate(answers) if answer.status_code == 200}
    assert len(winners) == OFFCUTS
    for n, answer in enumerate(answers):
        if answer.status_code == 409:
            conflict = answer.json()["conflicts"][0]
            assert (conflict["thing"], conflict["plan"]) == (tags[n % OFFCUTS], winners[tags[n % OFFCUTS]])
    assert all(offcut(either, tag)["plan"] == plan for tag, plan in winners.items())
    assert broken(either.store, frozenset(plans)) == []


def test_the_same_request_from_many_at_once_is_one_plan(either: Running) -> None:
    """A nervous finger on the button, sixteen times, with one idempotency key."""
    body = pieces_request({610: 1})
    with ThreadPoolExecutor(16) as crowd:
        answers = list(crowd.map(lambda _: either.send(body, **{"Idempotency-Key": "once"}), range(16)))
    assert {answer.status_code for answer in answers} == {202}
    assert len({answer.json()["id"] for answer in answers}) == 1


def test_bars_of_one_plan_reported_from_many_saws(either: Running) -> None:
    """Every bar is accounted for once, whoever reports it and how often."""
    plan = either.proposed(pieces_request({610: 40}))
    assert either.client.post(f"/v1/plans/{plan}/release").status_code == 200
    reports = [number for number in range(1, 11) for _ in range(3)]  # 40 pieces, four a bar: ten bars
    with ThreadPoolExecutor(10) as saws:
        answers = list(
            saws.map(
                lambda number: either.client.post(
                    f"/v1/plans/{plan}/bars/{number}/report", json={"outcome": "cut"}
                ),
                reports,
            )
        )
    assert {answer.status_code for answer in answers} == {200}
    assert either.plan(plan)["state"] == "finished"
    assert broken(either.store, frozenset({plan})) == []
