"""The saw's allowances that a plan assumes, as a table for its first pages."""

from __future__ import annotations

from nesting.domain.plan import Plan
from nesting.paper.faces import Face
from nesting.paper.flow import Block, Stack
from nesting.paper.tables import Column, Title, rows_of
from nesting.reports.lengths import BothUnits
from nesting.reports.tables import allowances, assumption_rows, given_words


def saw_table(plan: Plan, lengths: BothUnits) -> tuple[Block, ...]:
    """Give one row per allowance, one column per saw, kept together; each value says where it comes from."""
    saws = assumption_rows(plan)
    columns = (
        Column("allowance", 0.15, face=Face.BOLD),
        *(Column(name, 0.52 / len(saws), face=Face.BOLD) for name, _ in saws),
        Column("what it is", 0.33, 8.5),
    )
    rows = zip(*(allowances(saw) for _, saw in saws), strict=True)
    origins = zip(*(given_words(plan, saw) for _, saw in saws), strict=True)
    cells = tuple(
        (
            each[0][0],
            *(f"{lengths.both(value[2])}, {word}" for value, word in zip(each, origin, strict=True)),
            each[0][1],
        )
        for each, origin in zip(rows, origins, strict=True)
    )
    return (Stack(rows_of(Title("The saw this plan is made for"), columns, cells, height=6.5)),)
