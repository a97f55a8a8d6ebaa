"""A finding says what to do in the words of the way in."""

from pathlib import Path

import pytest

from api.web.wording import HTTP, PAGES, Words, worded
from nesting.sheets.read_request import read_list


@pytest.mark.parametrize("words", [HTTP, PAGES])
@pytest.mark.parametrize("text", ["length\n1806\n", "length\n36 1/4\n", "length (mm),quantity\n1806,1\n"])
def test_nobody_is_sent_to_the_options_of_a_command(tmp_path: Path, words: Words, text: str) -> None:
    """What the reader really says of a list without unit or stock is said otherwise, every time."""
    path = tmp_path / "list.csv"
    path.write_text(text, encoding="utf-8")
    said = [finding.message for finding in read_list(path).findings]
    assert [message for message in said if " --" in message]
    assert [message for message in said if " --" in worded(message, words)] == []


def test_other_words_stay_as_they_are() -> None:
    """Only what names an option is changed."""
    assert worded("A bar needs a family.", HTTP) == "A bar needs a family."
