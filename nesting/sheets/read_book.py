"""The sheets of an input by what they hold: runs, pieces, families, stock, rack, saw."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path

from nesting.errors import Where
from nesting.sheets.cells import Sheet
from nesting.sheets.columns import FAMILIES, OFFCUTS, PIECES, RUNS, SAW, STOCK, SheetKind, SheetPlan
from nesting.sheets.findings import Findings
from nesting.sheets.read_csv import read_csv
from nesting.sheets.read_header import Table, find_header, read_table
from nesting.sheets.read_tabs import only_lengths, plan_of, says_runs
from nesting.sheets.read_workbook import read_workbook

_GUIDE = "guide"
_PLAN_TABS = {"Summary", "Order", "Cut list"}
_HOW_TO_PLAN_RUNS = "Name the id column Run, and add Families, to plan runs."


@dataclass(slots=True)
class InputBook:
    """
    The sheets of the input by kind.

    Parameters
    ----------
    lent
        The kinds that come from a catalogue beside the list, not from the list itself.
    """

    sheets: dict[SheetKind, list[Sheet]] = field(default_factory=dict)
    lent: set[SheetKind] = field(default_factory=set)

    def of(self, plan: SheetPlan) -> list[Sheet]:
        """Give the sheets of a kind, in their order."""
        return self.sheets.get(plan.kind, [])

    def lend(self, catalogue: InputBook) -> None:
        """Take from the catalogue the kinds this book has no sheet of; never its lists."""
        for plan in (FAMILIES, STOCK, OFFCUTS, SAW):
            if not self.of(plan) and catalogue.of(plan):
                self.sheets[plan.kind] = catalogue.of(plan)
                self.lent.add(plan.kind)

    def take_as_pieces(self, findings: Findings) -> None:
        """
        Take lists of lengths for pieces where nothing speaks of runs and no family could take them off.

        Families that are only lent take off no bare list: what a catalogue happens to hold must not
        decide whether a cap comes off a length.
        """
        lent = FAMILIES.kind in self.lent
        if self.of(FAMILIES) and not lent:
            return
        bare = [sheet for sheet in self.of(RUNS) if not says_runs(sheet)]
        if lent:
            bare = [sheet for sheet in bare if only_lengths(sheet)]
        if not bare:
            return
        how = "Name the id column Run to plan runs." if lent else _HOW_TO_PLAN_RUNS
        self.sheets[RUNS.kind] = [sheet for sheet in self.of(RUNS) if sheet not in bare]
        self.sheets[PIECES.kind] = [*bare, *self.of(PIECES)]
        for sheet in bare:
            findings.note(
                "read-as-pieces",
                sheet.where(),
                "",
                "Nothing in the list speaks of runs, so its lengths are what is sawn: no cap is taken off "
                f"and none is made in sections. {how}",
            )


def sheets_of(path: Path, findings: Findings) -> tuple[Sheet, ...]:
    """Read the sheets of a workbook, or the one of a CSV file."""
    return read_csv(path, findings) if path.suffix.lower() == ".csv" else read_workbook(path, findings)


def sort_sheets(sheets: tuple[Sheet, ...], findings: Findings, *, main: bool) -> InputBook:
    """
    Sort sheets by what they hold, and tell of those nobody reads.

    Parameters
    ----------
    main
        Whether they are the list itself, not a catalogue beside it.
    """
    book = InputBook()
    if main and {sheet.name for sheet in sheets} >= _PLAN_TABS:
        findings.error(
            "plan-not-list",
            Where(sheets[0].name),
            "",
            "The workbook is a plan that was written, not a run list; give the list it was made from, or "
            "plan again from its JSON with nesting replan.",
        )
        return book
    for sheet in sheets:
        plan = plan_of(sheet) if sheet.rows else None
        if plan is not None:
            book.sheets.setdefault(plan.kind, []).append(sheet)
            if sheet.hidden:
                findings.warning(
                    "hidden-sheet", sheet.where(), "", "The sheet is hidden and is read like the others."
                )
        elif sheet.rows and sheet.name.casefold() != _GUIDE and main:
            findings.warning(
                "sheet-not-read",
                sheet.where(),
                sheet.rows[0].raw,
                "No heading says what it is; a run list needs a Length column and one more, such as Run.",
            )
    return book


def tables_of(book: InputBook, plan: SheetPlan, findings: Findings) -> list[Table]:
    """Give the lists of a kind; a sheet without its headings is told."""
    tables = []
    for sheet in book.of(plan):
        header = find_header(plan, sheet)
        if header is None:
            needed = " and ".join(plan.column(name).heading for name in plan.needs)
            findings.error(
                "no-header",
                sheet.where(),
                sheet.rows[0].raw,
                f"No row has the headings of {plan.kind.value}; at least {needed} and one more are needed.",
            )
        else:
            tables.append(read_table(plan, sheet, header, findings))
    return tables
