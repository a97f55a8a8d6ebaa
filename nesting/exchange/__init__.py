"""Requests, plans and shop reports as JSON documents, version 1, for programs."""

from nesting.exchange.plan import plan_schema, read_plan, write_plan
from nesting.exchange.request import read_request, request_schema, write_request
from nesting.exchange.shop_report import read_shop_report, shop_report_schema, write_shop_report

__all__ = [
    "plan_schema",
    "read_plan",
    "read_request",
    "read_shop_report",
    "request_schema",
    "shop_report_schema",
    "write_plan",
    "write_request",
    "write_shop_report",
]
