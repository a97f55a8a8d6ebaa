"""A report that is sent again, because nobody knows whether it arrived, is answered as the first time."""

import pytest

from tests.api.plans.test_life import release
from tests.api.problems import problem
from tests.api.service import Running, pieces_request
from tests.api.shelving import add_shelf, balance


def released(service: Running) -> str:
    """Give a released plan of two bars, 4 x 610 mm each."""
    add_shelf(service, 2500, on_hand=2)
    plan = service.proposed(pieces_request({610: 8}, bars=()))
    release(service, plan)
    return plan


def test_a_report_sent_twice_under_its_key_is_answered_alike(either: Running) -> None:
    """The second answer is the first one's, and the metal is taken once."""
    plan = released(either)
    path, key = f"/v1/plans/{plan}/bars/1/report", {"Idempotency-Key": "bar-1-first"}
    first = either.client.post(path, json={"outcome": "cut", "tail": "41 mm"}, headers=key)
    assert first.status_code == 200, first.text
    before = either.plan(plan)
    again = either.client.post(path, json={"outcome": "cut", "tail": "41 mm"}, headers=key)
    assert (again.status_code, again.json()) == (200, first.json())
    assert balance(either)["good"] == 2440
    assert either.plan(plan) == before


def test_a_key_names_one_report_only(either: Running) -> None:
    """The same key with another bar, or another outcome, is refused and does nothing."""
    plan = released(either)
    key = {"Idempotency-Key": "one"}
    either.client.post(f"/v1/plans/{plan}/bars/1/report", json={"outcome": "cut"}, headers=key)
    for bar, outcome in ((2, "cut"), (1, "defect")):
        path = f"/v1/plans/{plan}/bars/{bar}/report"
        other = either.client.post(path, json={"outcome": outcome}, headers=key)
        assert problem(other, 422) == "idempotency-key-reused"
    assert either.client.get(f"/v1/plans/{plan}/bars/2").json()["state"] == "open"


def test_a_refused_report_may_be_put_right_under_its_key(either: Running) -> None:
    """What was refused is not kept: a tail longer than the bar, then the true one."""
    plan = released(either)
    path, key = f"/v1/plans/{plan}/bars/1/report", {"Idempotency-Key": "long"}
    wrong = either.client.post(path, json={"outcome": "cut", "tail": "4100 mm"}, headers=key)
    assert problem(wrong, 422) == "report-not-possible"
    right = either.client.post(path, json={"outcome": "cut", "tail": "41 mm"}, headers=key)
    assert right.status_code == 200, right.text


def test_who_reported_a_bar_before_is_said(either: Running) -> None:
    """The shop hears whom to ask, and that a bar of a plan taken back is not cut."""
    plan = released(either)
    either.client.post(f"/v1/plans/{plan}/bars/1/report", json={"outcome": "cut"})
    other = either.client.post(f"/v1/plans/{plan}/bars/1/report", json={"outcome": "defect"})
    assert other.json()["detail"] == "Bar 1 is reported as cut already, by this machine."
    either.client.post(f"/v1/plans/{plan}/withdraw")
    late = either.client.post(f"/v1/plans/{plan}/bars/2/report", json={"outcome": "cut"})
    assert problem(late, 409) == "bar-reported"
    assert "Bar 2 is not cut any more" in late.json()["detail"]


@pytest.mark.parametrize(
    ("measure", "at"),
    [
        ({"tail": "1100 m"}, "/"),
        ({"tail_nm": 1_100 * 10**9}, "/tail_nm"),
        ({"miscuts": [{"piece": "a", "length": "1100 m"}]}, "/miscuts/0"),
        ({"miscuts": [{"piece": "a", "length_nm": 1_100 * 10**9}]}, "/miscuts/0/length_nm"),
    ],
)
def test_a_measure_longer_than_any_bar_is_refused_in_metres(
    service: Running, measure: dict[str, object], at: str
) -> None:
    """However it is given, it is told what would be accepted in words that a person can read."""
    answer = service.client.post(f"/v1/plans/{'0' * 32}/bars/1/report", json={"outcome": "cut", **measure})
    assert problem(answer, 422) == "not-valid"
    (finding,) = answer.json()["findings"]
    assert finding["at"] == at
    assert finding["message"].startswith("no bar is longer than 1000 m")
