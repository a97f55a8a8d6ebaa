"""What the OpenAPI document says of bodies that the endpoints read themselves."""

from __future__ import annotations

from typing import Any

from api.plans.render import CSV, JSON, PDF, SVG, XLSX
from api.plans.schemas import PlanRead
from api.web.problems import MEDIA_TYPE, TYPE_PREFIX
from nesting.exchange import request_schema

_BINARY = {"type": "string", "format": "binary"}
_LIST_EXAMPLE = "Job,Run,Quantity,Length (mm),Family,Finish\nOY,OY-305-2,2,920.75,TOLV-17N,natural\n"

PLAN_BODY: dict[str, Any] = {
    "requestBody": {
        "required": True,
        "content": {
            JSON: {
                "schema": {"$ref": "#/components/schemas/PlanRequest"},
                "example": request_schema()["examples"][0],
            },
            XLSX: {"schema": _BINARY},
            CSV: {"schema": {"type": "string"}, "example": _LIST_EXAMPLE},
            "multipart/form-data": {
                "schema": {
                    "type": "object",
                    "required": ["file"],
                    "properties": {
                        "file": {**_BINARY, "description": "Workbook, CSV file or JSON request."},
                        "catalogue": {
                            **_BINARY,
                            "description": "Workbook with families, stock, offcuts, saw.",
                        },
                    },
                }
            },
        },
    }
}

WITHDRAWAL_EXAMPLES: dict[str, Any] = {
    "wrong bar": {
        "summary": "The report was of another bar",
        "value": {"reason": "bar 8 was cut, not bar 7"},
    },
    "wrong tail": {
        "summary": "A measure was typed wrong",
        "value": {"reason": "the tail is 1320 mm, not 1230 mm"},
    },
}

WITHDRAWAL_REPLIES: dict[int | str, dict[str, Any]] = {
    409: {
        "description": "Nothing is reported of the bar (not-reported), its plan was planned again or "
        "withdrawn (wrong-state), or something has become of what was born or set aside (stock-conflict).",
        "content": {
            MEDIA_TYPE: {
                "schema": {"$ref": "#/components/schemas/ProblemRead"},
                "example": {
                    "type": f"{TYPE_PREFIX}stock-conflict",
                    "title": "Stock conflict",
                    "status": 409,
                    "detail": "What was reported of bar 7 stands: P17-7 is reserved by plan P19.",
                    "conflicts": [
                        {
                            "thing": "P17-7",
                            "state": "reserved",
                            "plan": "019a2f6be1d00f3c5b7a9e4d2c1b0a98",
                            "holder": "purchasing",
                        }
                    ],
                },
            }
        },
    }
}

_LOCATION = {"Location": {"description": "The plan.", "schema": {"type": "string"}}}

PLAN_REPLIES: dict[int | str, dict[str, Any]] = {
    201: {"description": "The plan is done.", "model": PlanRead, "headers": _LOCATION},
    202: {"description": "The plan is in the queue.", "model": PlanRead, "headers": _LOCATION},
}

RESULT_REPLIES: dict[int | str, dict[str, Any]] = {
    200: {
        "description": "The plan.",
        "content": {
            JSON: {"schema": {"$ref": "#/components/schemas/PlanDocument"}},
            XLSX: {"schema": _BINARY},
            PDF: {"schema": _BINARY},
            SVG: {"schema": {"type": "string"}},
        },
    }
}
