"""Which type a caller gets, by the words of its Accept header (RFC 9110, section 12.5.1)."""

import pytest

from api.plans.negotiation import best_type
from api.web.problems import Problem

OFFERED = ("application/json", "application/pdf", "image/svg+xml")


@pytest.mark.parametrize(
    ("accept", "best"),
    [
        (None, "application/json"),
        ("", "application/json"),
        ("*/*", "application/json"),
        ("image/*", "image/svg+xml"),
        ("application/pdf, */*;q=0.1", "application/pdf"),
        ("application/json;q=0.2, image/svg+xml;q=0.9", "image/svg+xml"),
        ("application/*;q=0.5, application/json;q=0", "application/pdf"),
        ("APPLICATION/PDF", "application/pdf"),
        ("application/pdf;q=x, image/svg+xml;q=0.1", "image/svg+xml"),
    ],
)
def test_the_most_wanted_offer_is_taken(accept: str | None, best: str) -> None:
    """The most specific range decides, weights are heeded, and the first offer breaks a tie."""
    assert best_type(accept, OFFERED) == best


@pytest.mark.parametrize("accept", ["text/html", "application/json;q=0", ",;,"])
def test_nothing_acceptable(accept: str) -> None:
    """The refusal names what is offered."""
    with pytest.raises(Problem, match="application/json") as refused:
        best_type(accept, OFFERED)
    assert refused.value.status == 406
