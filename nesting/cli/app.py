"""
The ``nesting`` command.

Exit codes: 0 planned, 1 something could not be placed or an audit failed, 2 the input was refused.
Heavy packages are imported by the command that needs them, so that ``--help`` answers at once.
"""

from __future__ import annotations

import json
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from nesting.cli.revisions import add_revisions
from nesting.cli.shell import (
    LEFT_OUT,
    PLANNED,
    Processes,
    Seed,
    TimeLimit,
    console_of,
    fault,
    refuse,
    text_of,
    write_files,
)
from nesting.errors import Finding, InputRefused, LengthNotUnderstood, MoneyNotUnderstood

if TYPE_CHECKING:
    from nesting.domain.request import Request
    from nesting.sheets.read_options import ReadOptions

app = typer.Typer(
    name="nesting",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,  # the decorated help costs more than half a second of imports
    help="Turn run lists of many jobs into the least stock to order and a cut plan the saw can trust.",
)


class SchemaKind(StrEnum):
    """The documents that have a JSON Schema."""

    REQUEST = "request"
    PLAN = "plan"
    REPORT = "report"


@app.command()
def plan(
    source: Annotated[Path, typer.Argument(metavar="INPUT", help="Workbook (.xlsx), .csv or .json request.")],
    output: Annotated[Path | None, typer.Option("--output", "-o", help="Workbook to write (.xlsx).")] = None,
    json_output: Annotated[Path | None, typer.Option("--json", help="JSON plan to write.")] = None,
    pdf: Annotated[
        Path | None,
        typer.Option(
            metavar="DIR", file_okay=False, help="Folder for cut sheets, labels and lists to print."
        ),
    ] = None,
    catalogue: Annotated[
        Path | None,
        typer.Option(help="Workbook with Families, Stock, Offcuts and Saw, for a list of runs alone."),
    ] = None,
    job: Annotated[list[str] | None, typer.Option(help="Plan this job only; may be given again.")] = None,
    unit: Annotated[
        str | None, typer.Option(help="Unit of bare numbers when the list names none: mm, cm, m, in, ft.")
    ] = None,
    bar: Annotated[
        list[str] | None,
        typer.Option(metavar="LENGTH[=PRICE]", help="Stock for materials without any; may be given again."),
    ] = None,
    kerf: Annotated[str | None, typer.Option(help="Width of the saw cut, e.g. '3 mm' or '1/8 in'.")] = None,
    head_trim: Annotated[str | None, typer.Option(help="Raw end to the first clean face.")] = None,
    tail_loss: Annotated[str | None, typer.Option(help="Last good face to the raw far end.")] = None,
    keep_length: Annotated[str | None, typer.Option(help="Tails this long go back to the rack.")] = None,
    time_limit: TimeLimit = 60.0,
    seed: Seed = 0,
    processes: Processes = None,
) -> None:
    """Plan a run list: what to order, how to cut each bar, what is left."""
    lengths = {"kerf": kerf, "head_trim": head_trim, "tail_loss": tail_loss, "keep_length": keep_length}
    try:
        request = _read(source, catalogue, _options(unit, bar or [], lengths))
        request = _only(request, job or [])
    except InputRefused as refused:
        refuse(refused)
    _plan(request, output, json_output, time_limit, seed, processes, pdf, unit)


@app.command()
def template(output: Annotated[Path, typer.Argument(metavar="OUT.xlsx")]) -> None:
    """Write an empty input workbook with headings, drop-downs and a short guide."""
    from nesting.sheets.template import write_template

    write_template(output)
    console_of().print(f"Wrote {output}. Fill in the sheet Runs, then: nesting plan {output} -o plan.xlsx")


@app.command()
def demo(
    folder: Annotated[Path, typer.Argument(metavar="[DIR]")] = Path("orrelbeck-yard"),
    time_limit: TimeLimit = 60.0,
    seed: Seed = 0,
    processes: Processes = None,
) -> None:
    """Write the demo building's run list and plan it: 48 flats, a rush job, ten offcuts."""
    from nesting.demo import tables
    from nesting.sheets.template import write_template

    folder.mkdir(parents=True, exist_ok=True)
    source = folder / "runs.xlsx"
    write_template(source, tables())
    console_of().print(f"Wrote {source}")
    try:
        request = _read(source, None, _options(None, [], {}))
    except InputRefused as refused:
        refuse(refused)
    _plan(request, folder / "plan.xlsx", folder / "plan.json", time_limit, seed, processes)


@app.command()
def audit(source: Annotated[Path, typer.Argument(metavar="PLAN.json")]) -> None:
    """Check any plan again, also one edited by hand, without the solver."""
    from nesting.cli.auditing import audit_plan

    raise typer.Exit(audit_plan(source))


@app.command()
def schema(kind: Annotated[SchemaKind, typer.Argument()]) -> None:
    """Print the JSON Schema of a request, of a plan or of a report from the shop."""
    from nesting.exchange import plan_schema, request_schema, shop_report_schema

    schemas = {
        SchemaKind.REQUEST: request_schema,
        SchemaKind.PLAN: plan_schema,
        SchemaKind.REPORT: shop_report_schema,
    }
    document = schemas[kind]()
    typer.echo(json.dumps(document, indent=2, ensure_ascii=False))


add_revisions(app)


def _plan(
    request: Request,
    output: Path | None,
    json_output: Path | None,
    time_limit: float,
    seed: int,
    processes: int | None,
    pdf: Path | None = None,
    unit: str | None = None,
) -> None:
    from nesting.batch.pool import Limits
    from nesting.batch.run import plan_request
    from nesting.cli.progress import watching
    from nesting.reports.terminal import print_plan

    limits = Limits(seed=seed, seconds=time_limit, processes=processes)
    with watching(console_of(stderr=True)) as (watcher, cancel):
        planned = plan_request(request, limits, watcher=watcher, cancel=cancel)
    write_files(planned, output, json_output)
    if pdf:
        from nesting.paper import write_paper
        from nesting.units import Unit

        write_paper(planned, pdf, unit=Unit(unit.strip().lower()) if unit else Unit.MM)
    print_plan(planned, console_of())
    for written in (output, json_output, pdf):
        if written:
            console_of().print(f"Wrote {written}")
    raise typer.Exit(LEFT_OUT if planned.unplaced else PLANNED)


def _read(source: Path, catalogue: Path | None, options: ReadOptions) -> Request:
    if source.suffix.lower() == ".json":
        from nesting.exchange import read_request as read_document

        return read_document(text_of(source), source=source.name)
    from nesting.sheets.read_request import read_request

    return read_request(source, catalogue=catalogue, options=options)


def _only(request: Request, jobs: list[str]) -> Request:
    from dataclasses import replace

    if not jobs:
        return request
    known = sorted({run.job for run in request.runs} | {line.job for line in request.piece_lines})
    missing = [job for job in jobs if job not in known]
    if missing:
        listed = ", ".join(known)
        raise InputRefused(
            tuple(fault("--job", "", job, f"No such job in the list; it has: {listed}.") for job in missing)
        )
    return replace(
        request,
        runs=tuple(run for run in request.runs if run.job in jobs),
        piece_lines=tuple(line for line in request.piece_lines if line.job in jobs),
    )


def _options(unit: str | None, bars: list[str], lengths: dict[str, str | None]) -> ReadOptions:
    """Read the options that hold lengths and prices; every fault at once."""
    from nesting.money import read_money
    from nesting.sheets.read_options import ReadOptions
    from nesting.units import Unit, read_length

    faults: list[Finding] = []
    known_unit = None
    if unit is not None:
        known_unit = next((u for u in Unit if u.value == unit.strip().lower()), None)
        if known_unit is None:
            faults.append(fault("--unit", "", unit, "One of mm, cm, m, in, ft is expected."))
    values = {}
    for name, text in lengths.items():
        if text is not None:
            try:
                values[name] = read_length(text, known_unit, may_be_zero=True).length
            except LengthNotUnderstood as why:
                faults.append(fault("--" + name.replace("_", "-"), "", text, why.expected))
    offered = []
    for text in bars:
        length, _, price = text.partition("=")
        try:
            offered.append((read_length(length, known_unit).length, read_money(price) if price else None))
        except (LengthNotUnderstood, MoneyNotUnderstood) as why:
            faults.append(fault("--bar", "", text, why.expected))
    if faults:
        raise InputRefused(tuple(faults))
    return ReadOptions(
        unit=known_unit,
        bars=tuple(offered),
        kerf=values.get("kerf"),
        head_trim=values.get("head_trim"),
        tail_loss=values.get("tail_loss"),
        keep_length=values.get("keep_length"),
    )
