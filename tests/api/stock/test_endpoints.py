"""Shelves over HTTP: what stands there, what is set aside, what is counted."""

from tests.api.problems import problem
from tests.api.service import FAMILY, FINISH, Running
from tests.api.shelving import act, add_shelf, balance, shelf


def test_a_shelf_is_set_up_once_for_a_stock_length(either: Running) -> None:
    """Family, finish, part and length name it; its first bars are in the books."""
    made = add_shelf(either, 2500, on_hand=4, price="14.00")
    shown = shelf(either, made)
    assert (shown["free"], shown["price"], shown["length"]["text"]) == (4, "14.00", "2500 mm")
    body = {"family": FAMILY, "finish": FINISH, "length_nm": 2_500_000_000}
    assert problem(either.client.post("/v1/stock", json=body), 409) == "stock-exists"
    assert balance(either)["store"] == 10_000


def test_deliveries_counts_and_bars_set_aside(either: Running) -> None:
    """Each act changes the counts as the stockroom says; what is impossible is refused."""
    path = f"/v1/stock/{add_shelf(either, 2500, on_hand=1)}"
    assert either.client.post(f"{path}/receive", json={"bars": 4, "reason": "delivery"}).json()["free"] == 5
    aside = act(either, f"{path}/quarantine", {"bars": 3, "reason": "dents"}).json()
    assert (aside["free"], aside["quarantined"]) == (2, 3)
    assert act(either, f"{path}/restore", {"bars": 1, "reason": "fine"}).json()["free"] == 3
    assert act(either, f"{path}/scrap", {"bars": 2, "reason": "bent"}).json()["quarantined"] == 0
    assert act(either, f"{path}/count", {"bars": 2}).json()["free"] == 2
    assert problem(act(either, f"{path}/scrap", {"bars": 1, "reason": "none"}), 409) == "stock-conflict"
    sums = balance(either)
    # 5 came, 2 were scrapped, 1 was missing at the count.
    assert (sums["outside"], sums["scrap"], sums["measure"], sums["store"]) == (-12_500, 5_000, 2_500, 5_000)


def test_a_delivery_sent_twice_by_accident_comes_in_once(either: Running) -> None:
    """Sent again under its key because the answer was lost, it changes nothing; a new key is another one."""
    path = f"/v1/stock/{add_shelf(either, 2500)}/receive"
    body = {"bars": 4, "reason": "delivery"}
    for key, free in (("a", 4), ("a", 4), ("b", 8)):
        answer = either.client.post(path, json=body, headers={"Idempotency-Key": key})
        assert (answer.status_code, answer.json()["free"]) == (200, free)
    other = either.client.post(path, json={**body, "bars": 5}, headers={"Idempotency-Key": "a"})
    assert problem(other, 422) == "idempotency-key-reused"
    assert balance(either)["store"] == 8 * 2500


def test_price_and_supply_are_corrected_with_the_etag(service: Running) -> None:
    """A new price needs the version that was seen, like everything that overwrites."""
    path = f"/v1/stock/{add_shelf(service, 2500)}"
    assert problem(service.client.patch(path, json={"price": "12.00"}), 428) == "precondition-needed"
    tag = service.client.get(path).headers["ETag"]
    change = {"price": "12.00", "orderable": False}
    changed = service.client.patch(path, json=change, headers={"If-Match": tag})
    assert (changed.json()["price"], changed.json()["orderable"]) == ("12.00", False)
    assert changed.headers["ETag"] != tag


def test_filters_and_unknown_shelves(service: Running) -> None:
    """By family, finish and part."""
    add_shelf(service, 2500)
    add_shelf(service, 3000, part="cover")
    assert len(service.client.get(f"/v1/stock?family={FAMILY}").json()) == 2
    assert [one["part"] for one in service.client.get("/v1/stock?part=cover").json()] == ["cover"]
    assert problem(service.client.get("/v1/stock/" + "0" * 32), 404) == "not-found"
    first = service.client.get("/v1/stock?limit=1")
    assert len(service.client.get(first.links["next"]["url"]).json()) == 1
