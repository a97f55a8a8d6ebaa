"""Second goals as the input workbook names them: lines of the Saw sheet, and columns of a list."""

from __future__ import annotations

from nesting.sheets.column_types import Column

GOAL_TEXTS = {
    "gang": (
        "Bars clamped at once",
        ("gang", "gang size", "bars in a gang", "bars at a time", "clamp holds"),
        "Equal bars clamped side by side and cut with one stroke; blank: 1.",
    ),
    "slivers": (
        "Slivers",
        ("sliver", "thin last cuts"),
        "warn (the default) or forbid: last strokes with less than a kerf of metal in them.",
    ),
    "fewer_patterns": (
        "Fewer patterns",
        ("fewer set ups", "few patterns"),
        "yes looks for fewer different patterns and stop settings on the same bars.",
    ),
    "open_units": (
        "Few open units",
        ("few units open", "finish units together"),
        "yes orders the bars so that few units are half finished at once.",
    ),
    "long_tail": (
        "One long tail",
        ("long tail", "longest tail"),
        "yes collects what is left over in one tail as long as can be.",
    ),
}

PRIORITY = Column(
    field="priority",
    heading="Priority",
    accepts=("prio", "urgency", "rush"),
    width=9,
    hint="A whole number, the larger the more urgent, or rush; blank is 0. Urgent lines are cut first.",
)
DUE = Column(
    field="due",
    heading="Due",
    accepts=("due date", "due by", "deadline", "wanted by", "required by", "needed by", "delivery date"),
    width=12,
    hint="Day by which it is wanted, such as 2027-03-31; among equal priorities the earlier comes first.",
)
