"""What two requests ask for differently, in words: runs, catalogue, stock, rack, saw."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import fields, is_dataclass
from enum import Enum
from typing import Any

from nesting.domain.request import Request
from nesting.domain.rules import SawRules
from nesting.domain.stock import StockLine
from nesting.money import money_text
from nesting.units import mm_text

# Not asked for by anybody: how a reader met it, and columns that are only carried along.
_APART = frozenset({"where", "extra", "findings"})
_SHOWN = 12
_MONEY = frozenset({"price", "value", "hand_value", "fetch", "least_order", "budget"})
# Whole numbers that are no length.
_COUNTS = frozenset(
    {
        *("quantity", "count", "pack", "minimum", "on_hand", "lead_days", "adhesive_rows", "bars", "share"),
        *("off", "low", "high", "revision", "gang", "priority"),
    }
)


def request_changes(before: Request, after: Request) -> Iterator[str]:
    """Say what is added, removed and changed of what was asked for, rows by their names."""
    for name in ("title", "currency"):
        yield from _value(name.capitalize(), name, getattr(before, name), getattr(after, name))
    for name, saw in (("Saw", "saw"), ("Cover saw", "cover_saw")):
        yield from _saw(name, getattr(before, saw), getattr(after, saw))
    yield from _rows(
        "Run", before.runs, after.runs, lambda run: f"{run.id} of job {run.job}" if run.job else run.id
    )
    yield from _rows(
        "Line",
        before.piece_lines,
        after.piece_lines,
        lambda line: f"{line.id} of job {line.job}" if line.job else line.id,
    )
    yield from _rows("Family", before.families, after.families, lambda family: family.name)
    yield from _rows("Stock", before.stock, after.stock, _stock_name)
    yield from _rows("Offcut", before.offcuts, after.offcuts, lambda offcut: offcut.tag)
    told = {"title", "currency", "saw", "cover_saw", "runs", "piece_lines", "families", "stock", "offcuts"}
    for field in fields(Request):
        if field.name not in told | _APART:
            old, new = getattr(before, field.name), getattr(after, field.name)
            yield from _inner(field.name.replace("_", " ").capitalize(), old, new)


def _stock_name(line: StockLine) -> str:
    named = " ".join(word for word in (line.family, line.finish, line.part.value) if word)
    supplier = f" from {line.supplier}" if line.supplier else ""
    return f"{named} of {mm_text(line.length)} mm{supplier}"


def _saw(name: str, before: SawRules | None, after: SawRules | None) -> Iterator[str]:
    if before is None or after is None:
        if before is not after:
            yield f"{name}: {'none of its own any more' if after is None else 'one of its own now'}."
        return
    yield from _inner(name, before, after)


def _inner(name: str, before: Any, after: Any) -> Iterator[str]:
    if before == after:
        return
    if is_dataclass(before) and is_dataclass(after) and type(before) is type(after):
        yield f"{name}: {_changes(before, after)}."
    else:
        yield f"{name}: {_said(name, after)} instead of {_said(name, before)}."


def _value(label: str, name: str, before: object, after: object) -> Iterator[str]:
    if before != after:
        yield f"{label}: {_said(name, after)} instead of {_said(name, before)}."


def _rows(kind: str, before: Sequence[Any], after: Sequence[Any], name_of: Any) -> Iterator[str]:
    """Compare tables by the rows' names; rows of one name are compared in their order."""
    old, new = _by_name(before, name_of), _by_name(after, name_of)
    said = []
    for key in [*old, *(key for key in new if key not in old)]:
        name = key[0]
        if key not in new:
            said.append(f"{kind} {name} is gone.")
        elif key not in old:
            said.append(f"{kind} {name} is new{_first_words(new[key])}.")
        elif changes := _changes(old[key], new[key]):
            said.append(f"{kind} {name}: {changes}.")
    yield from said[:_SHOWN]
    if len(said) > _SHOWN:
        yield f"and {len(said) - _SHOWN} more changes of that kind ({kind.lower()})."


def _by_name(rows: Sequence[Any], name_of: Any) -> dict[tuple[str, int], Any]:
    named: dict[tuple[str, int], Any] = {}
    # Rows of one name are told apart by what they say, not by where they stood.
    for row in sorted(rows, key=lambda row: (name_of(row), repr(_plain(row)))):
        name = name_of(row)
        number = 0
        while (name, number) in named:
            number += 1
        named[name, number] = row
    return named


def _plain(row: Any) -> list[tuple[str, object]]:
    return [(f.name, getattr(row, f.name)) for f in fields(row) if f.name not in _APART]


def _first_words(row: Any) -> str:
    length = getattr(row, "length", None)
    quantity = getattr(row, "quantity", None)
    count = f"{quantity} x " if quantity else ""
    return f", {count}{mm_text(length)} mm" if length else ""


def _changes(before: Any, after: Any) -> str:
    said = []
    for (name, old), (_, new) in zip(_plain(before), _plain(after), strict=True):
        if old != new:
            label = name.replace("_", " ")
            said.append(f"{label} {_said(name, new)} instead of {_said(name, old)}")
    return ", ".join(said)


def _said(name: str, value: object) -> str:
    if value is None or value in ("", ()):
        return "none"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Enum):
        return str(value.value)
    if isinstance(value, int) and name in _MONEY:
        return money_text(value)
    if isinstance(value, int) and name not in _COUNTS:
        return f"{mm_text(value)} mm"
    if is_dataclass(value) and not isinstance(value, type) and type(value).__str__ is object.__str__:
        return ", ".join(f"{n.replace('_', ' ')} {_said(n, held)}" for n, held in _plain(value)) or "none"
    if isinstance(value, tuple):
        return "; ".join(_said(name, one) for one in value)
    return str(value)
