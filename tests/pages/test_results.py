"""The cached reading of results."""

from __future__ import annotations

from api.pages.results import result_of
from tests.api.service import pieces_request
from tests.pages.live import Site


def test_a_result_is_read_once_and_missed_only_while_it_is_not_there(site: Site) -> None:
    """None before the plan is made must not be remembered; the same value afterwards is."""
    sent = site.client.post(
        "/v1/plans", content=pieces_request({904: 2}), headers={"Content-Type": "application/json"}
    )
    plan = str(sent.json()["id"])
    assert result_of(site.store, plan) is None
    site.make_plans()
    made = result_of(site.store, plan)
    assert made is not None
    assert len(made.pieces) == 2
    assert result_of(site.store, plan) is made
