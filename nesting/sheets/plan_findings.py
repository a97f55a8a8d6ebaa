"""What the reader noticed, and what the plan leaves out."""

from __future__ import annotations

from nesting.domain.plan import Plan
from nesting.errors import Finding, Severity
from nesting.reports.answer import unplaced_words
from nesting.reports.completion import fixture_of, fixture_words
from nesting.reports.whereabouts import pieces_by_id
from nesting.sheets.plan_book import Book
from nesting.sheets.plan_list import Column, Kind, write_list


def write_findings(book: Book, plan: Plan) -> None:
    """Write every finding, the user's own place and raw text first, the hardest severities on top."""
    write_list(
        book,
        "Findings",
        "Findings",
        "What was noticed while reading and planning, with the place in your own sheets.",
        (
            Column("severity", 10),
            Column("place", 18),
            Column("found", 26),
            Column("message", 70),
            Column("code", 22),
        ),
        [
            (f.severity.value, str(f.where), f.found, f.message, f.code)
            for f in sorted(_all_findings(plan), key=lambda f: list(Severity).index(f.severity))
        ],
        nothing="Nothing was noticed.",
    )


def write_unplaced(book: Book, plan: Plan) -> None:
    """Write every piece or run that is left out, with its reason."""
    fixtures, pieces = fixture_words(plan), pieces_by_id(plan)
    sheet = write_list(
        book,
        "Unplaced",
        "Unplaced",
        unplaced_words(plan),
        (
            Column("job", 14),
            Column("run", 18),
            Column("piece", 20),
            Column("length (mm)", 12, Kind.MM),
            Column("length (inch)", 14, Kind.INCH),
            Column("reason", 60),
            Column("fixture", 40),
            Column("place", 16),
            Column("code", 18),
        ),
        [
            (
                u.job,
                u.run,
                u.piece,
                u.length,
                u.length,
                u.reason,
                fixtures[fixture_of(u, pieces)],
                str(u.where),
                u.code,
            )
            for u in plan.unplaced
        ],
        nothing="Nothing is left out.",
    )
    if plan.unplaced:
        sheet.set_tab_color("#000000")


def _all_findings(plan: Plan) -> tuple[Finding, ...]:
    return tuple(dict.fromkeys((*plan.request.findings, *plan.findings)))
