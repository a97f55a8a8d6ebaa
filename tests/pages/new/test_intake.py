"""A file or pasted rows become a draft; anything else is said on the page."""

from __future__ import annotations

import pytest

from tests.api.service import Running

PAGE = {"Accept": "text/html"}
ROWS = "Run\tQuantity\tLength (mm)\n305-1\t2\t920\n"


def names(service: Running) -> str:
    return service.client.get("/new", headers=PAGE).text


@pytest.mark.parametrize(
    ("given", "kept"),
    [
        ("Floor 3.TSV", "Floor 3.csv"),
        ("list.txt", "list.csv"),
        ("C:\\sites\\runs.xlsx", "runs.xlsx"),
        ("../../etc/runs.json", "runs.json"),
    ],
)
def test_a_file_keeps_its_name_with_the_ending_it_is_read_by(service: Running, given: str, kept: str) -> None:
    """The name stands for the job where the list names none, and never leads to another folder."""
    sent = service.client.post(
        "/new", files={"file": (given, ROWS.encode())}, headers=PAGE, follow_redirects=False
    )
    assert sent.status_code == 303
    assert f">{kept}</a>" in names(service)


def test_a_file_stands_above_pasted_rows(service: Running) -> None:
    """Somebody who chose a file after pasting means the file."""
    service.client.post("/new", files={"file": ("a.csv", b"x")}, data={"rows": ROWS}, headers=PAGE)
    assert ">a.csv</a>" in names(service)
    assert "pasted rows.csv" not in names(service)


@pytest.mark.parametrize(
    "sent", [{"data": {"rows": "  \n"}}, {"files": {"file": ("site.jpg", b"\xff")}}, {"data": {}}]
)
def test_what_cannot_be_read_is_refused_on_the_page(service: Running, sent: dict[str, object]) -> None:
    """The form comes back with words and 422, and nothing is kept."""
    answer = service.client.post("/new", headers=PAGE, **sent)  # type: ignore[arg-type]
    assert answer.status_code == 422
    assert 'role="alert"' in answer.text
    assert "Lists not planned yet" not in answer.text
