"""A list is read again only when it, its choices or the stock have changed."""

from __future__ import annotations

import pytest

from api.processes.clerk import Clerks
from tests.api.service import Running

PAGE = {"Accept": "text/html"}
ROWS = "Job,Piece,Quantity,Length (mm),Family,Finish\nOY,P1,2,904,TOLV-17N,natural\n"


@pytest.fixture
def asked(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Count what the clerks are asked."""
    works: list[str] = []
    ask = Clerks.ask

    def counted(self: Clerks, work: object) -> object:
        works.append(type(work).__name__)
        return ask(self, work)

    monkeypatch.setattr(Clerks, "ask", counted)
    return works


def test_turning_a_page_reads_nothing(service: Running, asked: list[str]) -> None:
    """Reading a large workbook takes seconds; looking at it must not."""
    sent = service.client.post("/new", data={"rows": ROWS}, headers=PAGE)
    address = str(sent.url.path)
    service.client.get(f"{address}?show=settle", headers=PAGE)
    assert asked == ["ReadDraft"]
    service.client.post(f"{address}/read", data={"bars": "2500 mm"}, headers=PAGE)
    assert asked == ["ReadDraft"] * 2


def test_new_stock_counts_at_once(service: Running, asked: list[str]) -> None:
    """A bar that came meanwhile settles that there is none, unless the list wants none of it."""
    address = str(service.client.post("/new", data={"rows": ROWS}, headers=PAGE).url.path)
    assert "No bar is known" in service.client.get(address, headers=PAGE).text
    shelf = {"family": "TOLV-17N", "finish": "natural", "length": "2500 mm", "orderable": True}
    added = service.client.post("/v1/stock", json=shelf)
    assert added.is_success, added.text
    assert "No bar is known" not in service.client.get(address, headers=PAGE).text
    alone = service.client.post(f"{address}/read", data={"stock": "list"}, headers=PAGE)
    assert "No bar is known" in alone.text
    assert asked == ["ReadDraft"] * 3
