"""Runs and pieces of a request keep their columns; faults stand at the line they are in."""

from __future__ import annotations

import json
from dataclasses import replace
from typing import Any

import pytest

from nesting.exchange import read_request
from nesting.exchange.request_example import REQUEST_EXAMPLE
from nesting.exchange.request_lines import RunPart
from tests.exchange.changed_request import changed, faults


@pytest.mark.parametrize(
    ("path", "value", "code", "at"),
    [
        ("/runs/1", "x", "not-an-object", "/runs/1"),
        ("/runs/0/lenght", 5, "unknown-key", "/runs/0/lenght"),
        ("/runs/0/quantity", 0, "out-of-range", "/runs/0/quantity"),
        ("/runs/0/quantity", 2.5, "not-a-whole-number", "/runs/0/quantity"),
        ("/runs/0/quantity", 10**9, "out-of-range", "/runs/0/quantity"),
        ("/runs/0/kind", "by eye", "not-a-choice", "/runs/0/kind"),
        ("/runs/0/place/flor", "3", "unknown-key", "/runs/0/place/flor"),
        ("/runs/0/length", ..., "missing-key", "/runs/0/length"),
        ("/runs/0/priority", 1001, "out-of-range", "/runs/0/priority"),
        ("/piece_lines/0/part", "lid", "not-a-choice", "/piece_lines/0/part"),
    ],
)
def test_each_fault_is_refused_at_its_place(path: str, value: Any, code: str, at: str) -> None:
    """A slip in a line that is planned anyway ends as metal in the bin."""
    assert (code, at) in faults(path, value)


def test_unknown_columns_are_carried_along() -> None:
    """What a shop keeps in columns of its own is not ours to lose."""
    extra = [{"heading": "Fitter", "text": "Maud"}]
    run = read_request(changed("/runs/0/extra", extra)).runs[0]
    assert run.extra == (("Fitter", "Maud"),)
    assert RunPart.tree(run)["extra"] == extra


def test_status_and_priority_go_without_saying() -> None:
    """Most lines are measured and none is urgent; a list of thousands need not repeat it."""
    run = read_request(json.dumps(REQUEST_EXAMPLE)).runs[0]
    assert not {"status", "priority"} & RunPart.tree(run).keys()
    assert RunPart.tree(replace(run, priority=2))["priority"] == 2
