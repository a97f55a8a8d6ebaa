"""A plan as a workbook for the purchaser, the shop and the site."""

from __future__ import annotations

from pathlib import Path

from nesting.domain.plan import Plan
from nesting.sheets.plan_book import Book, clean
from nesting.sheets.plan_cut_list import write_cut_list
from nesting.sheets.plan_findings import write_findings, write_unplaced
from nesting.sheets.plan_jobs import write_jobs
from nesting.sheets.plan_offcuts import write_offcuts
from nesting.sheets.plan_order import write_order
from nesting.sheets.plan_pieces import write_pieces
from nesting.sheets.plan_reels import write_reels
from nesting.sheets.plan_shop_report import write_shop_report_sheet
from nesting.sheets.plan_small_parts import write_small_parts
from nesting.sheets.plan_strips import write_strips
from nesting.sheets.plan_summary import write_summary


def write_plan(plan: Plan, path: Path) -> None:
    """
    Write the plan as an ``.xlsx`` workbook: the answer, the order, the cut list, and every list behind them.

    Raises
    ------
    OSError
        When the file cannot be written.
    """
    book = Book(footer=f"plan {plan.id}", title=plan.request.title)
    title, subject = clean(plan.request.title) or "Plan", clean(f"plan {plan.id}")
    book.workbook.set_properties({"title": title, "subject": subject})
    write_summary(book, plan)
    write_order(book, plan)
    write_cut_list(book, plan)
    write_pieces(book, plan)
    write_strips(book, plan)
    write_reels(book, plan)
    write_small_parts(book, plan)
    write_offcuts(book, plan)
    write_jobs(book, plan)
    write_findings(book, plan)
    write_unplaced(book, plan)
    write_shop_report_sheet(book, plan)
    path.write_bytes(book.finish())
