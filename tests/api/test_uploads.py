"""Hostile uploads: refused with words, in little memory, and the service goes on."""

from pathlib import Path

from benchmarks.service.uploads import run


def test_hostile_uploads_are_refused(tmp_path: Path) -> None:
    """Three of each kind; the thousand are run by ``python -m benchmarks.service uploads``."""
    outcome = run(f"sqlite:///{tmp_path / 'store.sqlite3'}", uploads=51)
    assert outcome.holds, outcome
