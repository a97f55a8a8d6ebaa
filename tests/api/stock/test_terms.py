"""How bars are sold, and what stands on hand, reaches planning."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from nesting.domain.plan import OrderLine, Plan
from nesting.exchange import read_plan
from nesting.sheets.template import write_template
from tests.api.catalogue.test_endpoints import put_in
from tests.api.problems import problem
from tests.api.service import FAMILY, FINISH, Running, pieces_request
from tests.api.shelving import act, add_shelf, shelf

PRICED = {"price": "10.00", "currency": "XTS"}


def planned(service: Running, pieces: dict[int, int]) -> Plan:
    """Plan pieces on the service's own bars; give the result."""
    plan = service.proposed(pieces_request(pieces, bars=()))
    return read_plan(service.client.get(f"/v1/plans/{plan}/result").text)


def order(plan: Plan) -> OrderLine:
    """Give the order's one line."""
    (line,) = plan.order
    return line


def test_bars_on_hand_are_used_before_any_are_bought(either: Running) -> None:
    """Two of five stand there and are paid for: three are ordered, for 30.00."""
    add_shelf(either, 2500, on_hand=2, **PRICED)
    plan = planned(either, {2000: 5})
    line = order(plan)
    assert (line.on_hand, line.bars, line.sum, plan.request.currency) == (2, 3, 300_000, "XTS")


def test_a_bar_on_hand_may_have_a_value(either: Running) -> None:
    """The job pays 4.00 for the one on hand and 10.00 for the one bought."""
    add_shelf(either, 2500, on_hand=1, hand_value="4.00", **PRICED)
    assert [share.cost for share in planned(either, {2000: 2}).jobs] == [140_000]


def test_packs_minimum_and_breaks_decide_the_order(either: Running) -> None:
    """Packs of four, least eight, 10 % off from eight: five bars needed, eight ordered at 9.00."""
    terms: dict[str, Any] = {"pack": 4, "minimum": 8, "breaks": [{"bars": 8, "off": "10 %"}]}
    made = shelf(either, add_shelf(either, 2500, **terms, **PRICED))
    assert made["breaks"] == [{"bars": 8, "price": None, "off": "10 %", "scope": "line"}]
    line = order(planned(either, {2000: 5}))
    assert (line.bars, line.price, line.spare) == (8, 90_000, 3)


def test_a_limited_supply_is_not_exceeded(either: Running) -> None:
    """One on hand and two to be had: of four pieces, one a bar, one is left out."""
    add_shelf(either, 2500, on_hand=1, supply=2)
    assert len(planned(either, {2000: 4}).unplaced) == 1


def test_bars_that_a_plan_has_are_on_hand_for_nobody_else(either: Running) -> None:
    """The second plan orders what the first one has reserved."""
    add_shelf(either, 2500, on_hand=2, **PRICED)
    first = either.proposed(pieces_request({2000: 2}, bars=()))
    assert either.client.post(f"/v1/plans/{first}/release").status_code == 200
    line = order(planned(either, {2000: 2}))
    assert (line.on_hand, line.bars) == (0, 2)


def test_terms_are_corrected_and_what_is_left_out_stays(service: Running) -> None:
    """A new price does not lose the pack, and null takes a value away."""
    shelf_id = add_shelf(service, 2500, pack=4, supplier="Ostrel", hand_value="2.00", **PRICED)
    tag = {"If-Match": "*"}
    changed = service.client.patch(
        f"/v1/stock/{shelf_id}", json={"price": "11.00", "hand_value": None}, headers=tag
    ).json()
    told = {name: changed[name] for name in ("price", "pack", "supplier", "hand_value", "currency")}
    assert told == {"price": "11.00", "pack": 4, "supplier": "Ostrel", "hand_value": None, "currency": "XTS"}


def test_terms_that_cannot_be_are_refused(service: Running) -> None:
    """A break above the list price, or one that says two things."""
    body = {"family": FAMILY, "length": "2500 mm", "price": "10"}
    dearer = service.client.post("/v1/stock", json={**body, "breaks": [{"bars": 5, "price": "12"}]})
    assert problem(dearer, 422) == "cannot-be"
    both = service.client.post(
        "/v1/stock", json={**body, "breaks": [{"bars": 5, "price": "9", "off": "5 %"}]}
    )
    assert problem(both, 422) == "not-valid"
    assert service.client.get("/v1/stock").json() == []


def test_a_shop_has_one_currency(service: Running) -> None:
    """A plan adds prices up, so they cannot stand in two currencies; one that is not named is the shop's."""
    add_shelf(service, 2500, **PRICED)
    body = {"family": FAMILY, "finish": FINISH, "length": "3000 mm", "price": "12"}
    assert (
        problem(service.client.post("/v1/stock", json={**body, "currency": "XAG"}), 409)
        == "currencies-differ"
    )
    assert service.client.post("/v1/stock", json=body).json()["currency"] == "XTS"


def test_a_request_in_another_currency_is_not_lent_our_prices(service: Running) -> None:
    """It hears so at the field that is to blame; with bars of its own it may use any."""
    add_shelf(service, 2500, **PRICED)
    tree = json.loads(pieces_request({610: 1}, bars=()))
    refused = service.send(json.dumps({**tree, "currency": "XAG"}))
    assert problem(refused, 422) == "input-refused"
    assert refused.json()["findings"][0]["at"] == "/currency"
    own = json.loads(pieces_request({610: 1}))
    assert service.send(json.dumps({**own, "currency": "XAG"})).status_code == 202


def test_a_workbook_brings_terms_and_currency_and_takes_them_along(service: Running, tmp_path: Path) -> None:
    """What a price list says of packs, breaks and currency is kept, and stands in the export again."""
    row = {
        "Family": FAMILY,
        "Finish": FINISH,
        "Length": "2500 mm",
        "Price": "10.00 XTS",
        "On hand": "3",
        "Value on hand": "4.00",
        "Pack": "4",
        "Minimum": "8",
        "Price breaks": "9.00 from 8; 12% from 40 in all",
        "Supplier": "Ostrel",
        "Lead days": "12",
    }
    path = tmp_path / "in.xlsx"
    write_template(path, {"Stock": [row]})
    put_in(service, path.read_bytes())
    (before,) = service.client.get("/v1/stock").json()
    assert (before["currency"], before["free"], before["orderable"]) == ("XTS", 3, True)
    assert (before["pack"], before["minimum"], before["supplier"], before["lead_days"]) == (
        4,
        8,
        "Ostrel",
        12,
    )
    assert [one["scope"] for one in before["breaks"]] == ["line", "total"]
    put_in(service, service.client.get("/v1/catalogue").content)
    (after,) = service.client.get("/v1/stock").json()
    changing = ("changed_at",)
    assert {k: v for k, v in after.items() if k not in changing} == {
        k: v for k, v in before.items() if k not in changing
    }


def test_reserved_bars_are_in_the_stock_list_too(service: Running) -> None:
    """The export is what stands there; read in again it takes no bar from a plan."""
    shelf_id = add_shelf(service, 2500, on_hand=3)
    plan = service.proposed(pieces_request({2000: 2}, bars=()))
    service.client.post(f"/v1/plans/{plan}/release")
    put_in(service, service.client.get("/v1/catalogue").content)
    stands = shelf(service, shelf_id)
    assert (stands["free"], stands["reserved"]) == (1, 2)


def test_a_list_planned_on_lent_bars_is_in_their_currency(service: Running) -> None:
    """A CSV list without prices is planned in the shop's money."""
    service.client.put(f"/v1/families/{FAMILY}", json={"cap_style": "flush"})
    add_shelf(service, 2500, **PRICED)
    listed = f"Run,Quantity,Length (mm),Length kind,Family,Finish\nR1,1,610,channel,{FAMILY},{FINISH}\n"
    sent = service.client.post("/v1/plans", content=listed, headers={"Content-Type": "text/csv"})
    service.make_plans()
    summary = service.plan(sent.json()["id"])["summary"]
    assert (summary["currency"], summary["cost"]) == ("XTS", "10.00")


def test_a_received_bar_is_on_hand_from_then_on(service: Running) -> None:
    """Delivered, it is paid for: the next plan does not order it again."""
    shelf_id = add_shelf(service, 2500, **PRICED)
    act(service, f"/v1/stock/{shelf_id}/receive", {"bars": 1, "reason": "delivery"})
    line = order(planned(service, {2000: 1}))
    assert (line.on_hand, line.bars) == (1, 0)
