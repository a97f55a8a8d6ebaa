"""The page of promises."""

from benchmarks.anytime.promises import Finding
from benchmarks.anytime.suite import markdown


def test_a_broken_promise_is_listed() -> None:
    """Two measured, one kept; the one that missed by most stands in the table and in the list."""
    page = markdown([Finding.timed("soon", "a", 0.2, 0.5), Finding.timed("soon", "b", 0.7, 0.5)])
    assert "| soon | 2 | 1 | 0.700 | 0.5 | b |" in page
    assert "- soon, b: 0.700 s of 0.5 s, BROKEN" in page
    assert "soon, a" not in page


def test_all_kept_is_said() -> None:
    """A page without a list must not leave the reader guessing."""
    page = markdown([Finding(promise="one plan", case="a", kept=True)])
    assert "| one plan | 1 | 1 | - | - | - |" in page
    assert "Every promise was kept." in page
