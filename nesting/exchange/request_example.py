"""A request as a person would write it, shown with the schema."""

from __future__ import annotations

from typing import Any

REQUEST_EXAMPLE: dict[str, Any] = {
    "schema": 1,
    "title": "Orrelbeck Yard",
    "unit": "mm",
    "currency": "XTS",
    "saw": {"kerf": 3, "head_trim": 8, "tail_loss": 8, "keep_length": 400, "grip": "6 in"},
    "families": [
        {
            "name": "TOLV-17N",
            "cap_style": "nose",
            "cap_thickness": 1.5,
            "nose": 8,
            "cover_mode": "offset",
            "clearance": "1.5 mm",
            "strip_pitch": "5000 mm per 300 marks",
            "strip_feed": 20,
            "strip_tail": 3,
        }
    ],
    "stock": [
        {"family": "TOLV-17N", "finish": "natural", "length": 2000, "price": "11.40"},
        {"family": "TOLV-17N", "finish": "natural", "length": "2.5 m", "price": 14, "count": 80},
    ],
    "offcuts": [{"tag": "R-17", "family": "TOLV-17N", "finish": "natural", "length_nm": 1250000000}],
    "runs": [
        {
            "job": "OY",
            "id": "OY-305-2",
            "family": "TOLV-17N",
            "finish": "natural",
            "quantity": 2,
            "length": "36 1/4 in",
            "kind": "opening",
            "left": "holed cap",
            "place": {"building": "Orrelbeck Yard", "floor": "3", "unit": "305", "room": "kitchen"},
        }
    ],
    "piece_lines": [{"job": "OY", "id": "P-1", "family": "TOLV-17N", "finish": "natural", "length": 915}],
}
