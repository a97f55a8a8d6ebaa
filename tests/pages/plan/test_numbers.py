"""Numbers of bars as people write them."""

import pytest

from api.pages.plan.numbers import bar_numbers


@pytest.mark.parametrize(
    ("text", "numbers"),
    [
        ("", ()),
        (" , ", ()),
        ("3, 7-9", (3, 7, 8, 9)),
        ("9 and 7 to 8; 7", (7, 8, 9)),
        ("7–9", (7, 8, 9)),
    ],
)
def test_numbers_and_spans_are_understood(text: str, numbers: tuple[int, ...]) -> None:
    """What a cut sheet prints can be typed back."""
    assert bar_numbers(text) == numbers


@pytest.mark.parametrize("text", ["x", "3, P1-7", "9-7", "1-99999999", "-3", "3.5", "1 2"])
def test_what_is_not_understood_is_refused(text: str) -> None:
    """A bar that must not change is never guessed; a huge span fills no memory."""
    with pytest.raises(ValueError, match="write"):
        bar_numbers(text)
