"""Change one thing in a plan, as a slip of the hand or of a program would, and ask the auditor."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from nesting.domain.plan import Plan
from nesting.verify import violations


def change(plan: Plan, path: str, **changes: Any) -> Plan:
    """Give the plan with one nested value replaced, e.g. ``change(p, "groups.3.bars.0", tail=0)``."""
    changed: Plan = _change(plan, path.split(".") if path else [], changes)
    return changed


def found(changed: Plan) -> set[tuple[str, str]]:
    """Give what the auditor names: codes with their places."""
    return {(v.code, v.where) for v in violations(changed)}


def _change(value: Any, path: list[str], changes: dict[str, Any]) -> Any:
    if not path:
        return replace(value, **changes)
    first, rest = path[0], path[1:]
    if first.isdigit():
        place = int(first)
        return (*value[:place], _change(value[place], rest, changes), *value[place + 1 :])
    return replace(value, **{first: _change(getattr(value, first), rest, changes)})
