"""The demo building as a request, straight from its tables, for the counts of whole-building tests."""

from __future__ import annotations

from fractions import Fraction

from nesting.demo import rows
from nesting.domain.material import CapStyle, CoverMode, Family
from nesting.domain.request import Request
from nesting.domain.rules import DEFAULT_SAW
from nesting.domain.runs import EndCondition, LengthKind, Run
from nesting.domain.stock import StockLine
from nesting.sheets.read_runs import mitre_of
from nesting.units import mm


def condition(text: str) -> EndCondition:
    """Give what an end's text says; a mitre comes with its angle."""
    return EndCondition.MITRE if mitre_of(text) else EndCondition(text)


def building() -> Request:
    """Give the 338 rows of Orrelbeck Yard with its catalogue and stock lengths; prices are left out."""
    families = tuple(
        Family(
            name=row["Family"],
            cap_style=CapStyle(row["Cap style"]),
            cap_thickness=mm(row["Cap thickness (mm)"]),
            nose=mm(row["Nose (mm)"]),
            cover_mode=CoverMode(row["Cover mode"]),
            clearance=mm(row["Clearance (mm)"]),
            strip_pitch=Fraction(mm(row["Strip pitch (mm)"])),
            strip_feed=mm(row["Strip feed (mm)"]),
            strip_tail=mm(row["Strip tail (mm)"]),
            strip_width=mm(row["Strip width (mm)"]),
            width=mm(row["Section width (mm)"]),
            height=mm(row["Section height (mm)"]),
        )
        for row in rows("families")
    )
    runs = tuple(
        Run(
            job=row["Job"],
            id=row["Run"],
            family=row["Family"],
            finish=row["Finish"],
            quantity=int(row["Quantity"]),
            length=mm(row["Length (mm)"]),
            kind=LengthKind(row["Length kind"]),
            left=condition(row["Left end"]),
            right=condition(row["Right end"]),
            mitre_left=mitre_of(row["Left end"]),
            mitre_right=mitre_of(row["Right end"]),
        )
        for row in rows("runs")
    )
    stock = tuple(
        StockLine(family=row["Family"], finish=row["Finish"], length=mm(row["Length (mm)"]))
        for row in rows("stock")
    )
    return Request(runs=runs, families=families, stock=stock, saw=DEFAULT_SAW)
