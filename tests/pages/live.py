"""A service that a browser can reach, in the test's own process, with a store to look into."""

from __future__ import annotations

import shutil
import socket
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import uvicorn
from httpx2 import Client, Response

from api.app import create_app
from api.settings import Settings
from api.store.engine import Store
from nesting.demo import tables
from nesting.sheets.template import write_template
from tests.api.service import Running, running

XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
DEMO_NAME = "demo.sqlite3"
PATIENT = {"rate": 0, "clerk_seconds": 180}
"""No limit that a machine busy with other tests could run into."""


@dataclass(frozen=True)
class Site:
    """Where the service is reached, a client for its ``/v1``, and the store behind it."""

    url: str
    client: Client
    store: Store

    @property
    def plan(self) -> str:
        """Id of the newest plan: the demo building's, unless the test has made others."""
        return str(self.client.get("/v1/plans", params={"limit": 1}).json()[0]["id"])

    def post(self, path: str, body: object = None) -> Response:
        """Post to ``/v1``, and insist that it went well."""
        answer = self.client.post(path, json=body)
        assert answer.is_success, answer.text
        return answer

    def release(self, plan: str | None = None) -> str:
        """Release a plan (the newest when none is named); give its id."""
        wanted = plan or self.plan
        self.post(f"/v1/plans/{wanted}/release")
        return wanted

    def make_plans(self) -> int:
        """Make every plan that waits, at once and in this process; give their number."""
        return Running(self.client, self.store).make_plans()  # type: ignore[arg-type]  # only its store is used


@contextmanager
def live(database: Path, *, port: int = 0, **settings: Any) -> Iterator[Site]:
    """
    Run the service on a SQLite file until the block ends.

    Parameters
    ----------
    database
        The file; made when it is not there.
    port
        Where to listen; 0 takes a free one.
    settings
        Fields of ``Settings``; without ``solvers`` plans are made by `Site.make_plans` only.
    """
    url = f"sqlite:///{database}"
    chosen = Settings(**{"database": url, "solvers": 0, **PATIENT, **settings})
    app = create_app(chosen)
    listening = socket.create_server(("127.0.0.1", port))
    config = uvicorn.Config(
        app, log_level="warning", access_log=False, ws="none", timeout_graceful_shutdown=2
    )
    server = uvicorn.Server(config)
    thread = threading.Thread(target=server.run, kwargs={"sockets": [listening]}, name="live-site")
    thread.start()
    try:
        while not server.started:
            assert thread.is_alive(), "the service did not start"
            time.sleep(0.005)
        address = f"http://127.0.0.1:{listening.getsockname()[1]}"
        with Client(base_url=address, timeout=60) as client:
            yield Site(address, client, app.state.service.store)
    finally:
        server.should_exit = True
        thread.join(30)
        listening.close()


def make_demo(folder: Path) -> Path:
    """
    Give a SQLite file with the demo's catalogue, rack and rush job, and its plan proposed.

    Parameters
    ----------
    folder
        Where to make it; one that is there already is given as it is.
    """
    made = folder / DEMO_NAME
    if made.exists():
        return made
    raw, workbook = folder / f"raw-{DEMO_NAME}", folder / "runs.xlsx"
    write_template(workbook, tables())
    sheet = workbook.read_bytes()
    with running(f"sqlite:///{raw}", **PATIENT) as service:
        kind = {"Content-Type": XLSX}
        taken = service.client.post("/v1/catalogue", content=sheet, headers=kind)
        assert taken.status_code == 200, taken.text
        sent = service.client.post("/v1/plans", content=sheet, headers=kind)
        assert sent.status_code == 202, sent.text
        assert service.make_plans() == 1
    raw.rename(made)  # the store is closed: SQLite has written its log back and removed it
    return made


def copy_of(made: Path, folder: Path) -> Path:
    """Copy a database that nobody has open, for one test to change."""
    return Path(shutil.copy(made, folder / "site.sqlite3"))
