"""Copies taken while the service works are whole: restored, every promise holds and work goes on."""

import shutil
import subprocess
import threading
from pathlib import Path

import pytest

from api.store.backup import NotPossible, back_up
from benchmarks.service.databases import MISSING, fresh_database
from benchmarks.service.invariants import broken
from tests.api.service import Running, pieces_request, running
from tests.api.shelving import add_offcut


class Busy:
    """Somebody who puts offcuts on the rack and has plans released and cut, without a pause."""

    def __init__(self, service: Running) -> None:
        self._service, self._stop = service, threading.Event()
        self._thread = threading.Thread(target=self._work)
        self.begun = threading.Event()

    def __enter__(self) -> "Busy":
        self._thread.start()
        assert self.begun.wait(60)
        return self

    def __exit__(self, *_: object) -> None:
        self._stop.set()
        self._thread.join()

    def _work(self) -> None:
        number = 0
        while not self._stop.is_set():
            number += 1
            add_offcut(self._service, f"FL-{number}", 1300)
            plan = self._service.proposed(pieces_request({610: 6}))
            self._service.client.post(f"/v1/plans/{plan}/release")
            self._service.client.post(f"/v1/plans/{plan}/bars/1/report", json={"outcome": "cut"})
            self.begun.set()


def goes_on(url: str) -> None:
    """Check a restored database, then plan, release and cut on it."""
    with running(url) as restored:
        assert broken(restored.store) == []
        before = len(restored.client.get("/v1/plans").json())
        assert before >= 1
        plan = restored.proposed(pieces_request({610: 4}))
        assert restored.client.post(f"/v1/plans/{plan}/release").status_code == 200
        done = restored.client.post(f"/v1/plans/{plan}/bars/1/report", json={"outcome": "cut"})
        assert done.status_code == 200
        assert broken(restored.store) == []


def test_sqlite_is_copied_while_it_is_written(service: Running, tmp_path: Path) -> None:
    """The online backup sees one moment, however busy the shop is."""
    copy = tmp_path / "copy.sqlite3"
    with Busy(service):
        back_up(str(service.store.url), copy)
    goes_on(f"sqlite:///{copy}")


def test_a_copy_never_overwrites_anything(service: Running, tmp_path: Path) -> None:
    """Neither a file that is there nor a database of another kind."""
    there = tmp_path / "there"
    there.write_text("precious")
    with pytest.raises(NotPossible, match="exists"):
        back_up(str(service.store.url), there)
    assert there.read_text() == "precious"
    with pytest.raises(NotPossible, match="pg_dump"):
        back_up("postgresql+psycopg://nobody@/x", tmp_path / "copy")
    with pytest.raises(NotPossible, match="no database"):
        back_up(f"sqlite:///{tmp_path / 'missing'}", tmp_path / "copy")


def test_postgresql_is_dumped_while_it_is_written(postgres: str | None) -> None:
    """pg_dump and psql, with nothing of our own in between."""
    if postgres is None:
        pytest.skip(MISSING)
    programs = [shutil.which(name) for name in ("pg_dump", "psql")]
    if not all(programs):
        pytest.skip("pg_dump and psql are not on the path")
    with fresh_database(postgres) as url, fresh_database(postgres) as target:
        with running(url) as service, Busy(service):
            dump = subprocess.run(
                [str(programs[0]), _plain(url), "--no-owner"], check=True, capture_output=True
            ).stdout
        subprocess.run(
            [str(programs[1]), _plain(target), "-q", "-v", "ON_ERROR_STOP=1"],
            input=dump,
            check=True,
            stdout=subprocess.DEVNULL,
        )
        goes_on(target)


def _plain(url: str) -> str:
    return url.replace("postgresql+psycopg", "postgresql")
