"""A proof goes through a document with every digit of its duals."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from nesting.exchange.plan_certificate import CertificatePart
from tests.exchange.changed_plan import PLAN, faults


@pytest.mark.parametrize(
    ("path", "value", "code", "at"),
    [
        ("/groups/0/certificate/duals/0", "1e5", "not-a-whole-number", "/groups/0/certificate/duals/0"),
        ("/groups/0/certificate/scale", 1, "not-a-whole-number", "/groups/0/certificate/scale"),
    ],
)
def test_each_fault_is_refused_at_its_place(path: str, value: Any, code: str, at: str) -> None:
    """A dual that is read a little wrong proves nothing."""
    assert (code, at) in faults(path, value)


def test_duals_of_any_size_keep_their_digits() -> None:
    """2^53 + 1 is the first whole number that a float, and so many a JSON reader, cannot hold."""
    certificate = PLAN.groups[0].certificate
    assert certificate is not None
    large = replace(certificate, duals=(2**53 + 1, -(10**40)))
    tree = CertificatePart.tree(large)
    assert tree["duals"] == ["9007199254740993", "-1" + "0" * 40]
    assert CertificatePart.model_validate(tree).to_domain() == large
