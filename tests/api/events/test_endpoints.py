"""The ledger over HTTP: everything that happened, in order, and its sums."""

from tests.api.service import Running, pieces_request
from tests.api.shelving import add_offcut, add_shelf, balance


def test_a_plans_whole_story_is_in_the_ledger(either: Running) -> None:
    """Received, reserved, cut, tail back: readable by plan, and the sums agree."""
    add_shelf(either, 2500, on_hand=1)
    add_offcut(either, "FL-1", 1300)
    plan = either.proposed(pieces_request({610: 4}, bars=()))
    either.client.post(f"/v1/plans/{plan}/release")
    for bar in either.client.get(f"/v1/plans/{plan}/bars").json():
        either.client.post(f"/v1/plans/{plan}/bars/{bar['number']}/report", json={"outcome": "cut"})
    story = either.client.get(f"/v1/events?plan={plan}").json()
    # The offcut gives two of the four and 71 of scrap, the bar the other two and a tail.
    assert [(event["kind"], event["thing"].split(" ")[0]) for event in story] == [
        ("reserve", "FL-1"),
        ("reserve", "TOLV-17N"),
        ("cut", "FL-1"),
        ("cut", "TOLV-17N"),
        ("tail", "P1-2"),
    ]
    assert all(sum(p["length"]["nm"] for p in event["postings"]) == 0 for event in story)
    assert balance(either)["good"] == 2440


def test_following_the_ledger(service: Running) -> None:
    """A program that remembers the last id misses nothing and sees nothing twice."""
    for number in range(3):
        add_offcut(service, f"FL-{number}", 1000)
    first = service.client.get("/v1/events?limit=2")
    rest = service.client.get(f"/v1/events?after={first.json()[-1]['id']}&kind=receive").json()
    assert [event["thing"] for event in first.json() + rest] == ["FL-0", "FL-1", "FL-2"]
    assert "next" in first.links
