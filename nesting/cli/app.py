"""
The ``nesting`` command.

Exit codes: 0 planned, 1 something could not be placed or an audit failed, 2 the input was refused.
Heavy packages are imported by the command that needs them, so that ``--help`` answers at once.
"""

from __future__ import annotations

import json
from dataclasses import replace
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from nesting.cli.compare import add_compare
from nesting.cli.reading import only_jobs, options_of, read_input
from nesting.cli.revisions import add_revisions
from nesting.cli.shell import (
    LEFT_OUT,
    PLANNED,
    Processes,
    Seed,
    TimeLimit,
    console_of,
    refuse,
    write_files,
)
from nesting.domain.status import Purpose
from nesting.errors import InputRefused

if TYPE_CHECKING:
    from nesting.domain.request import Request

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
    purpose: Annotated[
        Purpose | None,
        typer.Option(
            "--for",
            help="order (the default) plans drawing sizes too, cut measured sizes only; none takes holds.",
        ),
    ] = None,
    margins: Annotated[
        bool, typer.Option("--margins", help="Also find how much every run may grow at no more cost.")
    ] = False,
    time_limit: TimeLimit = 60.0,
    seed: Seed = 0,
    processes: Processes = None,
) -> None:
    """Plan a run list: what to order, how to cut each bar, what is left."""
    lengths = {"kerf": kerf, "head_trim": head_trim, "tail_loss": tail_loss, "keep_length": keep_length}
    try:
        request = read_input(source, catalogue, options_of(unit, bar or [], lengths))
        request = only_jobs(request, job or [])
    except InputRefused as refused:
        refuse(refused)
    if purpose is not None:
        request = replace(request, purpose=purpose)
    _plan(request, output, json_output, time_limit, seed, processes, pdf, unit, margins=margins)


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
        request = read_input(source, None, options_of(None, [], {}))
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


add_compare(app)
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
    *,
    margins: bool = False,
) -> None:
    from nesting.batch.pool import Limits
    from nesting.batch.run import plan_request
    from nesting.cli.progress import watching
    from nesting.reports.terminal import print_plan

    limits = Limits(seed=seed, seconds=time_limit, processes=processes, growth=margins)
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
