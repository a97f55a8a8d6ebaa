"""Second goals as a sheet says them: what the plan should be good at, and what is urgent."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from typing import Any

from nesting.domain.dates import day_of
from nesting.domain.goals import MOST_IN_A_GANG, Goals, Slivers
from nesting.errors import ProblemError, Where
from nesting.sheets.cells import Cell
from nesting.sheets.columns import plain_words
from nesting.sheets.findings import Findings
from nesting.sheets.read_values import choice_of, quantity_of, yes_no_of

_SLIVERS = {
    **dict.fromkeys(("warn", "warned", "allow", "allowed", "yes", "tell"), Slivers.WARN),
    **dict.fromkeys(("forbid", "forbidden", "never", "no", "none", "avoid"), Slivers.FORBID),
}
_URGENT = {
    **dict.fromkeys(("rush", "urgent", "high", "yes", "asap", "express"), 1),
    **dict.fromkeys(("normal", "medium", "standard", "no", "none"), 0),
    "low": -1,
}
_MONTHS = 12
_DAY_AND_MONTH = re.compile(
    r"(?P<first>[0-9]{1,2})(?P<stroke>[./-])(?P<second>[0-9]{1,2})(?P=stroke)(?P<year>[0-9]{4})"
)
_PRIORITY = re.compile(r"[-−]?[0-9]{1,3}")


def goals_of(cells: Mapping[str, Cell], where_of: Callable[[Cell], Where], findings: Findings) -> Goals:
    """Give the second goals of the Saw sheet's lines; what is missing or wrong is as if not said."""
    said: dict[str, Any] = {}
    if (cell := cells.get("gang")) is not None:
        count = quantity_of(cell, where_of(cell), findings)
        if count is not None and count > MOST_IN_A_GANG:
            findings.error(
                "quantity-out-of-range",
                where_of(cell),
                cell.raw,
                f"A clamp holds 1 to {MOST_IN_A_GANG} bars.",
            )
        elif count is not None:
            said["gang"] = count
    if (cell := cells.get("slivers")) is not None:
        choice = choice_of(cell, _SLIVERS, "slivers", where_of(cell), findings)
        said |= {"slivers": choice} if choice else {}
    for field, what in (
        ("fewer_patterns", "fewer patterns"),
        ("open_units", "few open units"),
        ("long_tail", "one long tail"),
    ):
        if (cell := cells.get(field)) is not None:
            said[field] = bool(yes_no_of(cell, what, where_of(cell), findings))
    return Goals(**said)


def priority_of(cell: Cell, where: Where, findings: Findings) -> int:
    """Give a line's priority: a whole number, the larger the more urgent, or a word; 0 when blank."""
    if not cell.filled:
        return 0
    if _PRIORITY.fullmatch(cell.text):
        return int(cell.text.replace("−", "-"))
    found = _URGENT.get(plain_words(cell.text))
    if found is None:
        findings.warning(
            "priority-not-understood",
            where,
            cell.raw,
            "Read are whole numbers, the larger the more urgent, and rush, normal, low. It counts as 0.",
        )
    return found or 0


def _in_one_order_only(text: str) -> str:
    """Give a day such as 18.12.2026 in ISO 8601; empty where day and month could change places."""
    found = _DAY_AND_MONTH.fullmatch(text)
    if found is None:
        return ""
    first, second = int(found["first"]), int(found["second"])
    if first != second and max(first, second) <= _MONTHS:
        return ""
    day, month = (first, second) if second <= _MONTHS else (second, first)
    return f"{found['year']}-{month:02}-{day:02}"


def due_of(cell: Cell, where: Where, findings: Findings) -> str:
    """Give the day a line is wanted by, ISO 8601; empty when blank or not understood."""
    if not cell.filled:
        return ""
    try:
        return day_of(_in_one_order_only(cell.text) or cell.text[:10]).isoformat()
    except ProblemError:
        findings.warning(
            "date-not-understood",
            where,
            cell.raw,
            "Write the day as 2027-03-31, or as a date of the sheet. The line counts as one without a day.",
        )
        return ""
