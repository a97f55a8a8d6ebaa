"""A violation tells lengths and money exactly, in one line."""

from __future__ import annotations

import pytest

from nesting.units import mm
from nesting.verify.violation import Violation, in_mm, in_money


@pytest.mark.parametrize(
    ("length", "text"),
    [(mm(1803), "1803.0"), (mm("920.75"), "920.75"), (1, "0.000001"), (0, "0.0"), (mm(-3), "-3.0"),
     (mm(10**9), "1000000000.0")],
)  # fmt: skip
def test_millimetres_are_exact(length: int, text: str) -> None:
    """A rounded figure in a complaint could make two different lengths look alike."""
    assert in_mm(length) == f"{text} mm"


@pytest.mark.parametrize(("amount", "text"), [(10_254_000, "1025.40"), (1, "0.0001"), (0, "0.00")])
def test_money_is_exact(amount: int, text: str) -> None:
    """Two decimals, unless that would hide something."""
    assert in_money(amount) == text


def test_one_line_for_a_terminal() -> None:
    """The code closes the line, so programs can find it."""
    assert str(Violation("strokes", "bar 2", "bar 2: three.")) == "bar 2: three. [strokes]"
