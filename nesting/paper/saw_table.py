"""The saw's allowances that a plan assumes, as a table for its first pages."""

from __future__ import annotations

from nesting.domain.plan import Plan
from nesting.paper.faces import Face
from nesting.paper.flow import Block
from nesting.reports.lengths import BothUnits
from nesting.paper.tables import Column, heading, rows_of
from nesting.reports.tables import allowances, assumption_rows


def saw_table(plan: Plan, lengths: BothUnits) -> tuple[Block, ...]:
    """Give one row per allowance, one column per saw."""
    saws = assumption_rows(plan)
    columns = (
        Column("allowance", 0.15, face=Face.BOLD),
        *(Column(name, 0.4 / len(saws), face=Face.BOLD) for name, _ in saws),
        Column("what it is", 0.45, 9),
    )
    rows = zip(*(allowances(saw) for _, saw in saws), strict=True)
    cells = tuple((each[0][0], *(lengths.both(length) for _, _, length in each), each[0][1]) for each in rows)
    return rows_of(heading("The saw this plan is made for"), columns, cells, height=6.5)
