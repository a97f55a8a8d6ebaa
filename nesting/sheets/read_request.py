"""From a run list in a workbook or CSV file to a request, with a finding for everything that is not plain."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from nesting.domain.material import Family
from nesting.domain.request import Request
from nesting.domain.runs import PieceLine, Run
from nesting.domain.stock import Offcut, StockLine
from nesting.errors import Where
from nesting.sheets.columns import FAMILIES, OFFCUTS, PIECES, RUNS, SAW, STOCK, SheetPlan
from nesting.sheets.corrections import corrected
from nesting.sheets.findings import Findings
from nesting.sheets.read_book import InputBook, sheets_of, sort_sheets, tables_of
from nesting.sheets.read_catalogue import read_families, read_offcuts, read_stock
from nesting.sheets.read_consistency import UnreadId, check_request
from nesting.sheets.read_currency import Named, currencies_of
from nesting.sheets.read_defaults import plain_families, quick_stock, with_families, with_finishes
from nesting.sheets.read_extras import tell_unread
from nesting.sheets.read_header import Table, has_lines, is_matrix
from nesting.sheets.read_lines import LineReader, floor_of_tab
from nesting.sheets.read_needs import Places
from nesting.sheets.read_options import NO_OPTIONS, ReadOptions
from nesting.sheets.read_pieces import read_pieces, told_apart
from nesting.sheets.read_plausible import check_long, check_short
from nesting.sheets.read_report import ReadEcho, ReadOutcome, RowEcho
from nesting.sheets.read_runs import qualified, read_runs
from nesting.sheets.read_saw import NO_SAW_SHEET, SawSheet, currency_of, read_saw_sheet, saw_rules
from nesting.sheets.read_spelling import respelled, spelling_of
from nesting.sheets.read_tabs import ask_about_revisions
from nesting.units import Unit

__all__ = ["NO_OPTIONS", "ReadOptions", "read_list", "read_request"]


def read_request(path: Path, *, catalogue: Path | None = None, options: ReadOptions = NO_OPTIONS) -> Request:
    """
    Read a run list, or a piece list, with its catalogue.

    Parameters
    ----------
    path
        An .xlsx workbook or a .csv file.
    catalogue
        A workbook with Families, Stock, Offcuts and Saw for a list that comes without them; a sheet
        of the list itself stands above the catalogue's.
    options
        Values from the command line.

    Raises
    ------
    InputRefused
        When anything must be settled first; it carries every finding, not only the first.
    """
    return read_list(path, catalogue=catalogue, options=options).accepted()


def read_list(path: Path, *, catalogue: Path | None = None, options: ReadOptions = NO_OPTIONS) -> ReadOutcome:
    """Read as `read_request` does, without raising: the request or None, findings, echo of each row."""
    findings = Findings()
    echo: list[RowEcho] = []
    sheets = corrected(sheets_of(path, findings), options.corrections)
    book = sort_sheets(sheets, findings, main=True)
    if catalogue is not None:
        book.lend(sort_sheets(sheets_of(catalogue, findings), findings, main=False))
    book.take_as_pieces(findings)
    request = None
    if book.sheets or not findings.refuses:
        request = _request(path, book, options, findings, echo)
    if findings.refuses:
        request = None
    elif request is not None:
        request = replace(request, findings=findings.all)
    return ReadOutcome(request=request, findings=findings.all, echo=ReadEcho(rows=tuple(echo)), sheets=sheets)


def _request(
    path: Path, book: InputBook, options: ReadOptions, findings: Findings, echo: list[RowEcho]
) -> Request | None:
    saw_sheet = _saw_sheet(book, options, findings)
    unit = options.unit or saw_sheet.unit
    families: list[Family] = []
    stock: list[StockLine] = []
    offcuts: list[Offcut] = []
    for table in tables_of(book, FAMILIES, findings):
        families += read_families(table, findings, unit)
    named: list[Named] = []
    doubtful: set[str] = set()
    prices: Places = {}
    for table in tables_of(book, STOCK, findings):
        stock += read_stock(table, findings, unit, doubtful, prices)
        named += currencies_of(table)
    for table in tables_of(book, OFFCUTS, findings):
        offcuts += read_offcuts(table, findings, unit)
        named += currencies_of(table)
    runs, pieces, unread, places = _lines(path, book, unit, options, findings, echo)
    places |= prices
    if not book.of(RUNS) and not book.of(PIECES):
        findings.error(
            "no-run-list",
            Where(path.name),
            "",
            "The file has no run list; a sheet headed Run, Quantity, Length, Family, Finish is accepted.",
        )
    elif not runs and not pieces and not findings.refuses:
        findings.error("nothing-to-make", Where(path.name), "", "The list has no line to be made.")

    said = _families_named(families, (*stock, *offcuts), (*runs, *pieces))
    stock = with_families(stock, said, plain=True, findings=findings)
    offcuts = with_families(offcuts, said, plain=True, findings=findings)
    spelling = spelling_of(families, stock, offcuts)
    known = tuple(dict.fromkeys(filter(None, spelling.families.values())))
    stock = respelled(stock, spelling, findings)
    offcuts = respelled(offcuts, spelling, findings)
    stocked = _stocked(path, book, (*stock, *offcuts), options, findings)
    plain = (bool(options.bars) or not stocked) and not book.of(FAMILIES)
    if plain and not known:
        known = said
    runs = with_families(respelled(runs, spelling, findings), known, plain=plain, findings=findings)
    pieces = with_families(respelled(pieces, spelling, findings), known, plain=plain, findings=findings)
    saw, cover_saw = saw_rules(saw_sheet, options, _source(book, SAW, path), findings)
    request = Request(
        title=saw_sheet.title,
        runs=tuple(with_finishes(runs, stock, findings)),
        piece_lines=tuple(with_finishes(pieces, stock, findings)),
        families=tuple(families) or (plain_families(runs, findings, tell=stocked) if plain else ()),
        stock=tuple(stock),
        offcuts=tuple(offcuts),
        saw=saw,
        cover_saw=cover_saw,
        buying=saw_sheet.buying,
        purpose=saw_sheet.purpose,
        goals=saw_sheet.goals,
        currency=currency_of(saw_sheet, options, _source(book, SAW, path), named, findings),
    )
    request = replace(request, stock=(*request.stock, *quick_stock(request, options)))
    check_request(request, spelling, findings, places, unread=unread, stocked=stocked, doubtful=doubtful)
    check_short(request, {row.where: row.raw for row in echo}, findings)
    check_long(request, findings)
    return request


def _families_named(
    families: Sequence[Family], catalogue: Sequence[StockLine | Offcut], lines: Sequence[Run | PieceLine]
) -> tuple[str, ...]:
    """Give the families that the catalogue names, else those that the lists name, each once."""
    names = [family.name for family in families] + [line.family for line in catalogue]
    return tuple(dict.fromkeys(filter(None, names))) or tuple(
        dict.fromkeys(filter(None, (line.family for line in lines)))
    )


def _stocked(
    path: Path, book: InputBook, met: Sequence[StockLine | Offcut], options: ReadOptions, findings: Findings
) -> bool:
    """Tell whether anything can be cut from; without a bar nothing else about materials is worth saying."""
    if met or options.bars or not (book.of(RUNS) or book.of(PIECES)):
        return True
    if book.of(STOCK) and findings.refuses:
        return True  # the lines of the Stock sheet that could not be read are told already
    findings.error(
        "no-stock",
        Where(_source(book, STOCK, path)),
        "",
        "No bar is known to cut from. Name one with --bar '6000 mm=18.60', add a Stock sheet to the list, or "
        "give a workbook that has one with --catalogue.",
    )
    return False


def _saw_sheet(book: InputBook, options: ReadOptions, findings: Findings) -> SawSheet:
    sheets = book.of(SAW)
    if len(sheets) > 1:
        findings.ask(
            "two-saw-sheets",
            sheets[1].where(),
            sheets[1].name,
            f"{sheets[0].name} lists a saw too; keep one.",
        )
    return read_saw_sheet(sheets[0], findings, options) if sheets else NO_SAW_SHEET


def _source(book: InputBook, plan: SheetPlan, path: Path) -> str:
    sheets = book.of(plan)
    return sheets[0].name if sheets else path.name


def _lines(
    path: Path,
    book: InputBook,
    unit: Unit | None,
    options: ReadOptions,
    findings: Findings,
    echo: list[RowEcho],
) -> tuple[list[Run], list[PieceLine], list[UnreadId], Places]:
    runs: list[Run] = []
    pieces: list[PieceLine] = []
    unread: list[UnreadId] = []
    places: Places = {}
    lists = [sheet for plan in (RUNS, PIECES) for sheet in book.of(plan) if has_lines(plan, sheet)]
    ask_about_revisions(book.of(RUNS), findings)
    job = (options.job, "as given") if options.job else (path.stem, "the file's name")
    for plan in (RUNS, PIECES):
        for table in tables_of(book, plan, findings):
            if is_matrix(table):
                _refuse_matrix(table, findings)
                continue
            tell_unread(table, findings)
            reader = LineReader(
                table,
                findings,
                echo,
                default_unit=unit,
                job=job,
                floor=floor_of_tab(table.sheet.name),
                id_prefix=f"{table.sheet.name}-" if len(lists) > 1 else "",
            )
            if plan is RUNS:
                runs += read_runs(reader)
            else:
                pieces += read_pieces(reader)
            unread += [(plan.kind, *named) for named in reader.unread]
            places |= reader.places
    renamed, apart = qualified(runs), told_apart(pieces)
    _tell_renamed(
        runs,
        renamed,
        "unit-put-before-id",
        "Run ids start afresh in every unit or building; its name was put before them to tell them apart.",
        findings,
    )
    _tell_renamed(
        pieces,
        apart,
        "part-put-behind-id",
        "A channel and its cover share an id; 'cover' was put behind the cover's to tell them apart.",
        findings,
    )
    return renamed, apart, unread, places


def _tell_renamed(
    before: Sequence[Run | PieceLine],
    after: Sequence[Run | PieceLine],
    code: str,
    why: str,
    findings: Findings,
) -> None:
    """Tell, at the first of some lines that was given another id, why they were."""
    first = next((new for new, old in zip(after, before, strict=True) if new.id != old.id), None)
    if first is not None:
        findings.note(code, first.where, first.id, why)


def _refuse_matrix(table: Table, findings: Findings) -> None:
    cells = [table.header.cell(number) for number, _ in table.extras]
    findings.ask(
        "matrix-layout",
        table.sheet.where(cells[0]),
        ", ".join(cell.text for cell in cells),
        "Counts stand under unit types, and how many units there are of a type cannot be seen. Write one "
        "line for each run of each unit, with its Quantity and Unit.",
    )
