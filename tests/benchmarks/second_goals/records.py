"""Small records in the form of the published files."""

from __future__ import annotations

from typing import Any

# Two patterns of the plan given, 6 + 4 twice and 5 + 5 once, in the record's own order of lengths.
PATTERNS: dict[str, Any] = {
    "name": "tiny",
    "capacity": 10,
    "lengths": [4, 6, 5],
    "demands": [2, 2, 2],
    "min_fill": 9,
    "max_items": 3,
    "max_distinct": 2,
    "rolls": 3,
    "best_known": 2,
    "start_patterns": [[1, [[0, 1], [1, 1]]], [1, [[2, 2]]], [1, [[0, 1], [1, 1]]]],
}
# Customers 0-1-2 share products pairwise: two are open, whatever the order.
STACKS: dict[str, Any] = {"name": "chain", "products": 3, "orders": [[0], [0, 2], [1, 2]], "best_known": 2}
