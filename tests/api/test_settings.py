"""What an installation may set, and what follows from it."""

from pathlib import Path

import pytest
from pydantic import ValidationError

from api.settings import KeyRule, Settings


@pytest.mark.parametrize(
    ("host", "loopback"),
    [
        ("127.0.0.1", True),
        ("localhost", True),
        ("::1", True),
        ("127.8.8.8", True),
        ("0.0.0.0", False),
        ("::", False),
        ("shop", False),
    ],
)
def test_keys_are_required_wherever_others_can_reach(host: str, loopback: bool) -> None:
    """Every bind that is not surely loopback counts as open."""
    settings = Settings(host=host)
    assert settings.loopback is loopback
    assert settings.keys_required is not loopback


def test_keys_may_be_required_on_loopback_too() -> None:
    """Behind a proxy, loopback is everybody."""
    assert Settings(keys=KeyRule.REQUIRED).keys_required


def test_the_database_is_a_file_unless_one_is_named(tmp_path: Path) -> None:
    """A URL stands above the folder."""
    assert Settings(data=tmp_path).url == f"sqlite:///{tmp_path / 'nesting.sqlite3'}"
    assert Settings(database="postgresql+psycopg://x@/y", data=tmp_path).url == "postgresql+psycopg://x@/y"


def test_the_environment_sets_and_nonsense_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    """``NESTING_`` and the field's name; a rate below zero is a mistake."""
    monkeypatch.setenv("NESTING_MAX_PIECES", "77")
    assert Settings().max_pieces == 77
    monkeypatch.setenv("NESTING_RATE", "-1")
    with pytest.raises(ValidationError):
        Settings()
