"""Days as texts."""

from datetime import date

import pytest

from nesting.domain.dates import day_of
from nesting.errors import ProblemError


def test_a_plain_day_is_read() -> None:
    """The form every document uses."""
    assert day_of("2027-03-31") == date(2027, 3, 31)


@pytest.mark.parametrize("text", ["", "31.3.2027", "2027-02-30", "soon"])
def test_anything_else_is_refused(text: str) -> None:
    """A day that is guessed wrong is a late fixture."""
    with pytest.raises(ProblemError, match="no date"):
        day_of(text)
