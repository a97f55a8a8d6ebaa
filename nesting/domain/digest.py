"""The plan's id: a digest of what was asked for, the same however the rows were ordered."""

from __future__ import annotations

import hashlib
import json
from dataclasses import fields, is_dataclass, replace
from enum import Enum
from fractions import Fraction

from nesting.domain.plan import Plan
from nesting.domain.report import ShopReport
from nesting.domain.request import Request

_DIGITS = 12
# Raised when the normal form changes, so that old ids are not mistaken for new ones.
_FORM = 2
# Not asked for by anybody: how the reader met it, and columns that are only carried along.
_LEFT_OUT = frozenset({"where", "extra", "findings"})


def plan_id(request: Request, seed: int) -> str:
    """
    Give the plan's id: the same request and parameters always have the same one.

    Rows in another order, other sheet places and unknown columns change nothing; any length, name,
    price or count does. Twelve hexadecimal digits of the SHA-256 (FIPS 180-4) of the normal form.

    Parameters
    ----------
    seed
        Seed of the search.
    """
    normal = {"form": _FORM, "seed": seed, "request": _normal(request)}
    return _digest(normal)


def replan_id(before: Plan, report: ShopReport, request: Request, *, seed: int, freely: bool) -> str:
    """
    Give the id of a plan that follows another one after a report from the shop.

    Parameters
    ----------
    before
        The plan reported on; its bars count, since a time limit may end one search two ways.
    request
        What is asked for now, with the rack as the report leaves it.
    """
    bars = [[str(group.material), _normal(group.bars)] for group in before.groups]
    asked = [before.id, before.revision, bars, _normal(report), seed, freely]
    return _digest({"form": _FORM, "follows": asked, "request": _normal(request)})


def in_normal_order(request: Request) -> Request:
    """
    Give a request with its stock and its rack in an order of their own, however they were listed.

    Which of two equally good bars is taken depends on their order, so this order makes it the same.
    """
    stock = sorted(request.stock, key=lambda s: (s.family, s.finish, s.part, s.length, _text(s)))
    offcuts = sorted(request.offcuts, key=lambda offcut: (offcut.tag, _text(offcut)))
    return replace(request, stock=tuple(stock), offcuts=tuple(offcuts))


def _text(row: object) -> str:
    return json.dumps(_normal(row), sort_keys=True)


def _digest(normal: object) -> str:
    text = json.dumps(normal, sort_keys=True, separators=(",", ":"), ensure_ascii=True)
    return hashlib.sha256(text.encode()).hexdigest()[:_DIGITS]


def _normal(value: object) -> object:
    """Give plain values; rows of a table are sorted by their own text, names of fields kept."""
    if is_dataclass(value) and not isinstance(value, type):
        # A field at its default says nothing, so a field added later changes no id.
        said = ((f, getattr(value, f.name)) for f in fields(value) if f.name not in _LEFT_OUT)
        return {f.name: _normal(held) for f, held in said if held != f.default}
    if isinstance(value, tuple):
        rows = [_normal(row) for row in value]
        return sorted(rows, key=lambda row: json.dumps(row, sort_keys=True))
    if isinstance(value, Enum):
        return value.value
    if isinstance(value, Fraction):
        return str(value)
    if value is None or isinstance(value, str | int):
        return value
    raise TypeError(f"{type(value).__name__} has no normal form.")
