"""The catalogue's families, in the words of a request document."""

from tests.api.problems import problem
from tests.api.service import Running

NOSE = {"cap_style": "nose", "cap_thickness": "1.5 mm", "nose": "8 mm", "cover_mode": "offset"}


def test_a_family_is_kept_shown_changed_and_forgotten(either: Running) -> None:
    """Lengths come back exactly, whichever unit they were given in."""
    path = "/v1/families/TOLV-17N"
    made = either.client.put(path, json=NOSE)
    assert made.status_code == 200, made.text
    assert (made.json()["name"], made.json()["nose_nm"]) == ("TOLV-17N", 8_000_000)
    assert either.client.get("/v1/families").json() == [made.json()]
    assert problem(either.client.put(path, json=NOSE), 428) == "precondition-needed"
    tag = either.client.get(path).headers["ETag"]
    changed = either.client.put(path, json={**NOSE, "nose": "9 mm"}, headers={"If-Match": tag})
    assert changed.json()["nose_nm"] == 9_000_000
    assert problem(either.client.delete(path, headers={"If-Match": tag}), 412) == "changed-meanwhile"
    assert either.client.delete(path, headers={"If-Match": "*"}).status_code == 204
    assert problem(either.client.get(path), 404) == "not-found"


def test_what_no_family_can_be_is_refused_where_it_stands(service: Running) -> None:
    """The finding points into what was sent."""
    answer = service.client.put("/v1/families/X", json={"cap_style": "hat"})
    assert problem(answer, 422) == "input-refused"
    assert answer.json()["findings"][0]["at"] == "/cap_style"
    other = service.client.put("/v1/families/X", json={"name": "Y"})
    assert problem(other, 422) == "another-name"
