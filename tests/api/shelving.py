"""Stock for tests: families, shelves and offcuts put in over HTTP."""

from __future__ import annotations

from typing import Any

from tests.api.service import FAMILY, FINISH, Running


def add_offcut(service: Running, tag: str, millimetres: int, **more: str) -> None:
    """Put an offcut with two clean ends on the rack, so that nothing of it is trimmed."""
    body = {
        "tag": tag,
        "family": FAMILY,
        "finish": FINISH,
        "length": f"{millimetres} mm",
        "right": "clean",
        **more,
    }
    answer = service.client.post("/v1/offcuts", json=body)
    assert answer.status_code == 201, answer.text


def add_shelf(service: Running, millimetres: int, **more: Any) -> str:
    """Set up a shelf; give its id."""
    body = {"family": FAMILY, "finish": FINISH, "length": f"{millimetres} mm", **more}
    answer = service.client.post("/v1/stock", json=body)
    assert answer.status_code == 201, answer.text
    return str(answer.json()["id"])


def offcut(service: Running, tag: str) -> dict[str, Any]:
    """Give an offcut as it stands."""
    return dict(service.client.get(f"/v1/offcuts/{tag}").json())


def shelf(service: Running, shelf_id: str) -> dict[str, Any]:
    """Give a shelf as it stands."""
    return dict(service.client.get(f"/v1/stock/{shelf_id}").json())


def balance(service: Running) -> dict[str, Any]:
    """Give the ledger's sums in whole millimetres, after checking that the books are right."""
    answer = service.client.get("/v1/events/balance").json()
    assert answer["balanced"], answer
    return {name: length["nm"] / 1_000_000 for name, length in answer["accounts"].items()}


def act(service: Running, path: str, body: dict[str, Any]) -> Any:
    """Post with the current ETag."""
    resource = path.rpartition("/")[0]
    tag = service.client.get(resource).headers["ETag"]
    return service.client.post(path, json=body, headers={"If-Match": tag})
