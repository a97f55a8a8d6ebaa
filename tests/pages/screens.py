"""Every screen there is, on a site in the middle of its work."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from tests.api.service import pieces_request
from tests.pages.live import Site, live

JSON = {"Content-Type": "application/json"}
# One length that could mean two things, so that the draft has a question to ask.
ROWS = (
    "Run\tQuantity\tLength (mm)\tFamily\tFinish\n"
    "305-1\t2\t920.75\tTOLV-17N\tnatural\n"
    "305-2\t1\t1,250\tTOLV-17N\tnatural\n"
)

SCREENS = {
    "home": "/",
    "new": "/new",
    "draft": "/drafts/{draft}",
    "plans": "/plans",
    "plan at the saw": "/plans/{plan}?floor=3",
    "plan proposed": "/plans/{proposed}",
    "plan waiting": "/plans/{waiting}",
    "piece": "/plans/{plan}?floor=3&piece={piece}",
    "runs": "/plans/{plan}/runs?floor=3",
    "compare": "/plans/{plan}/compare",
    "bars at the saw": "/plans/{plan}/saw",
    "one bar": "/plans/{plan}/saw/5",
    "bar that is cut": "/plans/{plan}/saw/1",
    "cut sheets": "/plans/{proposed_released}/saw/sheets",
    "rack": "/rack",
    "rack found": "/rack?tag=FL-4&shortest=600",
    "offcut": "/rack/FL-900",
    "offcut reserved": "/rack/FL-407",
    "label": "/rack/FL-407/label",
    "add an offcut": "/rack/~add",
    "stocktake": "/rack/~stocktake",
    "add bars": "/rack/~bars/add",
    "bars": "/rack/~bars/{shelf}",
    "jobs": "/jobs",
    "job": "/jobs/{job}",
    "unit": "/jobs/{job}?floor=3&unit=305",
    "nothing there": "/rack/FL-000",
}


@dataclass(frozen=True)
class Busy:
    """A site with something on every screen."""

    site: Site
    names: dict[str, str]

    def path(self, screen: str) -> str:
        """Give the address of a screen."""
        return SCREENS[screen].format(**self.names)


@contextmanager
def busy(database: Path) -> Iterator[Busy]:
    """Run the demo in the middle of its work: bars cut, one defect, one piece spoiled, others waiting."""
    with live(database) as site:
        plan = site.release()
        first = site.client.get(f"/v1/plans/{plan}/bars/1").json()
        piece = site.client.get(f"/v1/plans/{plan}/bars/5").json()["cuts"][0]["piece"]
        _report(site, plan, 1, spoiled=[first["cuts"][0]["piece"]])
        _report(site, plan, 2)
        _report(site, plan, 3, outcome="defect", note="dent")
        body = {"tag": "FL-900", "family": "TOLV-17N", "finish": "natural", "length": "1203 mm"}
        site.post("/v1/offcuts", body)
        released = _plan(site, {904: 3, 610: 4}, "Porch")
        site.release(released)
        proposed = _plan(site, {904: 3, 2600: 1}, "Late wing")
        sent = site.client.post("/new", data={"rows": ROWS}, headers={"Accept": "text/html"})
        assert sent.status_code == 303, sent.text
        waiting = _sent(site, {904: 1}, "Attic")
        jobs = site.client.get("/v1/jobs", params={"name": "Orrelbeck Yard"}).json()
        names = {
            "plan": plan,
            "proposed": proposed,
            "proposed_released": released,
            "waiting": waiting,
            "piece": piece,
            "draft": sent.headers["location"].rpartition("/")[2],
            "shelf": site.client.get("/v1/stock").json()[0]["id"],
            "job": jobs[0]["id"],
        }
        yield Busy(site, names)


def _report(site: Site, plan: str, bar: int, **said: object) -> None:
    site.post(f"/v1/plans/{plan}/bars/{bar}/report", {"outcome": "cut", **said})


def _sent(site: Site, lengths: dict[int, int], job: str) -> str:
    answer = site.client.post("/v1/plans", content=pieces_request(lengths, job=job), headers=JSON)
    assert answer.status_code == 202, answer.text
    return str(answer.json()["id"])


def _plan(site: Site, lengths: dict[int, int], job: str) -> str:
    plan = _sent(site, lengths, job)
    assert site.make_plans() == 1
    return plan
