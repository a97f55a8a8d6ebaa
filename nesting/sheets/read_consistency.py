"""What the sheets say of one another: families known, ids unique, bars in stock."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import replace

from nesting.domain.request import Request
from nesting.domain.runs import PieceLine, Run
from nesting.domain.stock import StockLine
from nesting.errors import Where
from nesting.sheets.column_types import SheetKind
from nesting.sheets.findings import Findings, listed
from nesting.sheets.read_needs import Places, cell_of, rows_text
from nesting.sheets.read_spelling import Spelling
from nesting.sheets.read_stocked import check_lengths, check_prices, check_stock
from nesting.takeoff.plausible import TOO_MANY, pieces_too_many

UnreadId = tuple[SheetKind, str, str, Where]  # of a line without a length: its list, job, id and place


def check_request(
    request: Request,
    spelling: Spelling,
    findings: Findings,
    places: Places,
    *,
    unread: Sequence[UnreadId] = (),
    stocked: bool = True,
    doubtful: Collection[str] = (),
) -> None:
    """
    Note everything the sheets contradict each other in.

    Parameters
    ----------
    places
        Cells that findings name; a line without one is named by its length.
    unread
        Ids of lines that could not be read; they must be unique all the same.
    stocked
        Whether there is any stock; without it nothing is said of each material.
    doubtful
        Families with refused lines in the stock, an empty name for any: nothing is said of their stock.
    """
    unsure = {name.casefold() for name in doubtful}
    sure = request if not unsure else _without_families(request, unsure)
    _check_families(request, spelling, findings, places)
    _check_ids(request, unread, findings, places)
    if stocked:
        check_stock(sure, findings, places)
    check_prices(sure, findings, places)
    check_lengths(sure, findings)
    if pieces := pieces_too_many(request):
        findings.error("too-many-pieces", Where("request"), str(pieces), TOO_MANY)


def _without_families(request: Request, unsure: set[str]) -> Request:
    """Give a request without the lines and bars of some families; without any where one is not named."""

    def sure(line: Run | PieceLine | StockLine) -> bool:
        return "" not in unsure and line.family.casefold() not in unsure

    return replace(
        request,
        runs=tuple(filter(sure, request.runs)),
        piece_lines=tuple(filter(sure, request.piece_lines)),
        stock=tuple(filter(sure, request.stock)),
    )


def _check_families(request: Request, spelling: Spelling, findings: Findings, places: Places) -> None:
    known = {family.name for family in request.families}
    unknown: dict[str, list[Where]] = {}
    for run in request.runs:
        if run.family and run.family not in known:
            unknown.setdefault(run.family, []).append(cell_of(places, run.where, "family"))
    for name, met in unknown.items():
        said = (
            f"The family is not in Families. Known are {listed(sorted(known))}.{spelling.near(name)}"
            if known
            else "Runs are taken off by their family, and there is no Families sheet. Add one that has it, "
            "or give the lengths to be sawn as a Pieces sheet."
        )
        findings.error("family-unknown", met[0], name, f"{said} Rows: {rows_text(met)}.")
    everywhere = known | {bar.family for bar in request.stock}
    for offcut in request.offcuts:
        if offcut.family and offcut.family not in everywhere:
            findings.warning(
                "offcut-family-unknown",
                offcut.where,
                offcut.family,
                f"Nobody else names the family of offcut {offcut.tag}; it will not be used."
                f"{spelling.near(offcut.family)}",
            )


def _check_ids(request: Request, unread: Sequence[UnreadId], findings: Findings, places: Places) -> None:
    lines = [("run", run.job, run.id, cell_of(places, run.where, "id")) for run in request.runs]
    lines += [("piece", line.job, line.id, cell_of(places, line.where, "id")) for line in request.piece_lines]
    # An unread piece may be the cover of a channel of that id, so only runs are told twice with certainty.
    lines += [("run", job, name, where) for kind, job, name, where in unread if kind is SheetKind.RUNS]
    seen: dict[tuple[str, str], Where] = {}
    for what, job, name, where in lines:
        first = seen.get((job, name))
        if first is None:
            seen[job, name] = where
            continue
        findings.error(
            f"duplicate-{what}-id",
            where,
            name,
            f"Job {job!r} has a line of this id at {first} already; ids are unique within a job.",
        )
