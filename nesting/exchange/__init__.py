"""Requests and plans as JSON documents, version 1, for programs."""

from nesting.exchange.plan import plan_schema, read_plan, write_plan
from nesting.exchange.request import read_request, request_schema, write_request

__all__ = ["plan_schema", "read_plan", "read_request", "request_schema", "write_plan", "write_request"]
