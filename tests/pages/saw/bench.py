"""A small plan at the saw: five bars, one of them an offcut, one with a tail worth keeping."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from tests.api.service import FAMILY, FINISH, pieces_request
from tests.pages.live import Site, live

# 15 pieces of 610 mm: two from the offcut (610 + 3 + 610 + 3 = 1226 of 1300, tail 74), four from each of
# three new bars of 2500 (8 + 4 x 610 + 4 x 3 = 2460, tail 40), one from the last (8 + 610 + 3, tail 1879).
OFFCUT, PLACE = "FL-1", "B, shelf 3"
PIECES, BARS = 15, 5


@dataclass(frozen=True)
class Bench:
    """A released plan, and the service it is on."""

    site: Site
    plan: str

    @property
    def url(self) -> str:
        """Address of the service."""
        return self.site.url

    def path(self, bar: int | None = None, cut: int | None = None) -> str:
        """Give the path of the list, of a bar, or of a step of it."""
        path = f"/plans/{self.plan}/saw"
        path = path if bar is None else f"{path}/{bar}"
        return path if cut is None else f"{path}?cut={cut}"

    def bar(self, number: int) -> dict[str, object]:
        """Give a bar as the service has it."""
        return dict(self.site.client.get(f"/v1/plans/{self.plan}/bars/{number}").json())

    def state(self, number: int) -> object:
        """Give a bar's state."""
        return self.bar(number)["state"]

    def cuts(self) -> int:
        """Give how many bars the ledger saw cut: one entry each, however often a report came."""
        listed = self.site.client.get("/v1/events", params={"plan": self.plan, "limit": 500}).json()
        return sum(1 for entry in listed if entry["kind"] == "cut")


@contextmanager
def bench(database: Path, port: int = 0) -> Iterator[Bench]:
    """Run the service with the plan released; a database that has it already is taken as it is."""
    new = not database.exists()
    with live(database, port=port) as site:
        if new:
            _fill(site)
        yield Bench(site, site.plan)


def _fill(site: Site) -> None:
    material = {"family": FAMILY, "finish": FINISH}
    site.post("/v1/stock", {**material, "length": "2500 mm", "on_hand": 10})
    offcut = {"tag": OFFCUT, "length": "1300 mm", "right": "clean", "place": PLACE}
    site.post("/v1/offcuts", {**material, **offcut})
    sent = site.client.post(
        "/v1/plans",
        content=pieces_request({610: PIECES}, bars=()),
        headers={"Content-Type": "application/json"},
    )
    assert sent.status_code == 202, sent.text
    assert site.make_plans() == 1
    site.release()
