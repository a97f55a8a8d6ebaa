"""A plan small enough to read in one glance, shown with the schema; it passes the audit."""

from __future__ import annotations

from typing import Any

# One piece of 915 from a bar of 2000: 8 + 915 = 923, rest 1077, stroke 3, tail 1074 goes to the rack.
_SAW = {
    "kerf_nm": 3_000_000,
    "head_trim_nm": 8_000_000,
    "tail_loss_nm": 8_000_000,
    "keep_length_nm": 400_000_000,
    "grip_nm": 150_000_000,
    "step_nm": 0,
}
_MATERIAL = {"family": "TOLV-17N", "finish": "natural", "part": "channel"}

PLAN_EXAMPLE: dict[str, Any] = {
    "schema": 1,
    "id": "ce75f21e6238",
    "seed": 0,
    "order": [
        {
            **_MATERIAL,
            "lot": "",
            "length_nm": 2_000_000_000,
            "length_mm": "2000",
            "bars": 1,
            "price": "11.40",
            "sum": "11.40",
        }
    ],
    "groups": [
        {
            "material": _MATERIAL,
            "saw": _SAW,
            "cover_follows": False,
            "priced": True,
            "cost": "11.40",
            "bound": "11.40",
            "proof": "No cheaper plan cuts these pieces (proved).",
            "ended": "proved least",
            "seconds": 0.01,
            "totals": {
                "bars": 1,
                "used_nm": 2_000_000_000,
                "good_nm": 915_000_000,
                "kerf_nm": 3_000_000,
                "trim_nm": 8_000_000,
                "returned_nm": 1_074_000_000,
                "scrap_nm": 0,
            },
            "certificate": {"bound": 114_000, "dual_bound": 114_000, "scale": "1", "duals": ["114000"]},
            "bars": [
                {
                    "number": 1,
                    "source": "stock:0",
                    "offcut": False,
                    "length_nm": 2_000_000_000,
                    "length_mm": "2000",
                    "head_nm": 8_000_000,
                    "tail_loss_nm": 8_000_000,
                    "cuts": [
                        {"piece": "P-1", "length_nm": 915_000_000, "face_nm": 915_000_000, "held": True}
                    ],
                    "strokes": 2,
                    "kerf_loss_nm": 3_000_000,
                    "tail_nm": 1_074_000_000,
                    "fate": "offcut",
                    "tail_tag": "CE75F2-1",
                    "sliver": False,
                }
            ],
        }
    ],
    "jobs": [{"job": "OY", "pieces": 1, "good_nm": 915_000_000, "consumed_nm": 926_000_000, "cost": "11.40"}],
    "unplaced": [],
    "pieces": [
        {
            "id": "P-1",
            "job": "OY",
            "run": "P-1",
            "copy": 1,
            "section": 1,
            "sections": 1,
            "material": _MATERIAL,
            "length_nm": 915_000_000,
            "exact_nm": 915_000_000,
            "left": "bare",
            "right": "bare",
        }
    ],
    "strips": [],
    "findings": [],
    "request": {
        "schema": 1,
        "title": "Orrelbeck Yard",
        "currency": "XTS",
        "saw": _SAW,
        "stock": [{"family": "TOLV-17N", "finish": "natural", "length_nm": 2_000_000_000, "price": "11.40"}],
        "piece_lines": [
            {"job": "OY", "id": "P-1", "family": "TOLV-17N", "finish": "natural", "length_nm": 915_000_000}
        ],
    },
}
