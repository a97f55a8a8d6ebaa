"""A column that decides lengths or holds is not passed over because of its heading."""

from __future__ import annotations

from pathlib import Path

import pytest

from nesting.sheets.read_request import read_list
from tests.sheets.messy import A1, A2, HEAD, QUICK, runs


def told(folder: Path, heading: str, words: tuple[str, str]) -> list[str]:
    """Give the messages about columns that are not read, of a list with one column more."""
    build = runs([[*HEAD, heading], [*A1, words[0]], [*A2, words[1]]])
    read = read_list(build(folder), options=QUICK)
    return [f.message for f in read.findings if f.code == "column-not-read"]


@pytest.mark.parametrize(
    ("heading", "words", "meant"),
    [
        # Profile names the family already, so Type names nothing: both openings would be made too long.
        ("Type", ("opening", "finished"), "Length kind"),
        ("Progress", ("verify in field", "hold"), "Status"),
    ],
)
def test_a_column_of_our_words_under_another_heading_is_warned_of(
    tmp_path: Path, heading: str, words: tuple[str, str], meant: str
) -> None:
    """Protects from openings cut as finished lengths, and from cutting what is on hold."""
    (message,) = told(tmp_path, heading, words)
    assert f"those of {meant}" in message


@pytest.mark.parametrize(
    ("heading", "words"),
    [
        ("Type", ("opening", "shelf light")),
        ("Progress", ("", "hold")),
        ("Stuff", ("channel", "channel")),
        ("Length kind", ("opening", "finished")),
        ("Status", ("hold", "verify")),
    ],
)
def test_other_words_and_what_is_read_pass(tmp_path: Path, heading: str, words: tuple[str, str]) -> None:
    """A warning at every column of the sender's own would hide this one."""
    assert told(tmp_path, heading, words) == []
