"""Preferences (RFC 7240): heeded when understood, passed over when not."""

import pytest

from api.web.prefer import read_prefer


@pytest.mark.parametrize(
    ("header", "wait", "applied"),
    [
        (None, 0.0, ""),
        ("wait=10", 10.0, "wait=10"),
        ('respond-async, wait="5"', 5.0, "wait=5"),
        ("respond-async", 0.0, "respond-async"),
        ("wait=soon", 0.0, ""),
        ("wait=99999999999", 0.0, ""),
        ("return=minimal", 0.0, ""),
    ],
)
def test_what_is_read_of_a_preference(header: str | None, wait: float, applied: str) -> None:
    """The answer says which preference was heeded."""
    preference = read_prefer(header)
    assert (preference.wait, preference.applied, preference.given) == (wait, applied, bool(applied))
