"""A finding about a document's line leads back to where the line came from."""

from __future__ import annotations

import json
from dataclasses import replace
from typing import Any

from nesting.domain.request import Request
from nesting.errors import NOWHERE, Where
from nesting.exchange import read_request
from nesting.exchange.request_document import REQUEST, RequestDocument
from nesting.exchange.request_example import REQUEST_EXAMPLE


def test_a_line_s_own_place_goes_without_saying() -> None:
    """Each line stands where it stands; only a place in somebody else's list has to be kept."""
    request = read_request(json.dumps(REQUEST_EXAMPLE))
    (run,) = tree_of(replace(request, runs=(request.runs[0],)))
    assert "where" not in run
    (run,) = tree_of(replace(request, runs=(replace(request.runs[0], where=Where("Runs", "C17")),)))
    assert run["where"] == {"source": "Runs", "at": "C17"}


def test_a_place_nobody_knows_is_said_so() -> None:
    """Left out, it would come back as a place in this document, which the line never had."""
    request = read_request(json.dumps(REQUEST_EXAMPLE))
    (run,) = tree_of(replace(request, runs=(replace(request.runs[0], where=NOWHERE),)))
    assert run["where"] == {"source": REQUEST}


def tree_of(request: Request) -> list[dict[str, Any]]:
    """Give the runs as the document writes them."""
    runs = RequestDocument.tree(request)["runs"]
    assert isinstance(runs, list)
    return runs
