"""
The ``nesting`` command.

Exit codes stand at the end of the help text.
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
from nesting.cli.outputs import Output, check_outputs, plan_outputs
from nesting.cli.reading import only_jobs, options_of, read_input
from nesting.cli.replacing import exists_already
from nesting.cli.revisions import add_revisions
from nesting.cli.shell import (
    LEFT_OUT,
    PLANNED,
    Bars,
    Catalogue,
    Document,
    Force,
    ForcePlans,
    HeadTrim,
    Jobs,
    KeepLength,
    Kerf,
    LengthUnit,
    Paper,
    Processes,
    Seed,
    Source,
    TailLoss,
    TimeLimit,
    Workbook,
    console_of,
    refuse,
    write_files,
)
from nesting.domain.goals import Goals, Slivers
from nesting.domain.status import Purpose
from nesting.errors import InputRefused

if TYPE_CHECKING:
    from nesting.domain.request import Request

EXIT_CODES = """\b
Exit codes:
  0    planned, audited, the same
  1    a piece could not be placed, an audit failed, plans differ
  2    the input or an option is refused; nothing was written
  3    an unexpected fault; NESTING_DEBUG=1 shows its traceback
  130  aborted by a second Ctrl-C; the first one keeps the best plan so far
"""

app = typer.Typer(
    name="nesting",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,  # the decorated help costs more than half a second of imports
    help="Turn run lists of many jobs into the least stock to order and a cut plan the saw can trust.",
    epilog=EXIT_CODES,
)


class SchemaKind(StrEnum):
    """The documents that have a JSON Schema."""

    REQUEST = "request"
    PLAN = "plan"
    REPORT = "report"


@app.command(short_help="Plan a run list: what to order, how to cut.")
def plan(
    source: Source,
    output: Workbook = None,
    json_output: Document = None,
    pdf: Paper = None,
    catalogue: Catalogue = None,
    job: Jobs = None,
    unit: LengthUnit = None,
    bar: Bars = None,
    kerf: Kerf = None,
    head_trim: HeadTrim = None,
    tail_loss: TailLoss = None,
    keep_length: KeepLength = None,
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
    fewer_patterns: Annotated[
        bool,
        typer.Option("--fewer-patterns", help="Fewer different patterns and stop moves, at no more cost."),
    ] = False,
    gang: Annotated[
        int | None,
        typer.Option(min=1, max=99, metavar="BARS", help="Equal bars clamped and cut with one stroke."),
    ] = None,
    few_open_units: Annotated[
        bool,
        typer.Option("--few-open-units", help="Order the bars so that few units are half finished at once."),
    ] = False,
    long_tail: Annotated[
        bool, typer.Option("--long-tail", help="Collect what is left over in one long tail.")
    ] = False,
    slivers: Annotated[
        Slivers | None,
        typer.Option(help="Last strokes with less than a kerf of metal: warn (the default) or forbid."),
    ] = None,
    force: ForcePlans = False,
    time_limit: TimeLimit = 60.0,
    seed: Seed = 0,
    processes: Processes = None,
) -> None:
    """Plan a run list: what to order, how to cut each bar, what is left."""
    lengths = {"kerf": kerf, "head_trim": head_trim, "tail_loss": tail_loss, "keep_length": keep_length}
    try:
        check_outputs(plan_outputs(output, json_output, pdf, force=force), inputs=(source, catalogue))
        request = read_input(source, catalogue, options_of(unit, bar or [], lengths))
        request = only_jobs(request, job or [])
    except InputRefused as refused:
        refuse(refused)
    if purpose is not None:
        request = replace(request, purpose=purpose)
    goals = request.goals
    request = replace(
        request,
        goals=Goals(
            fewer_patterns=fewer_patterns or goals.fewer_patterns,
            gang=gang or goals.gang,
            open_units=few_open_units or goals.open_units,
            long_tail=long_tail or goals.long_tail,
            slivers=slivers or goals.slivers,
        ),
    )
    _plan(request, output, json_output, time_limit, seed, processes, pdf, margins=margins)


@app.command(short_help="Write an empty input workbook.")
def template(
    output: Annotated[Path, typer.Argument(metavar="OUT.xlsx", help="Workbook to write.")],
    force: Force = False,
) -> None:
    """Write an empty input workbook with headings, drop-downs and a short guide."""
    from nesting.sheets.template import write_template

    keep = None if force else exists_already
    try:
        check_outputs([Output(option="OUT.xlsx", path=output, suffix=".xlsx", keep=keep)])
    except InputRefused as refused:
        refuse(refused, nothing="Nothing was written.")
    write_template(output)
    console_of().print(f"Wrote {output}. Fill in the sheet Runs, then: nesting plan {output} -o plan.xlsx")


@app.command(short_help="Write and plan a demo building.")
def demo(
    folder: Annotated[
        Path, typer.Argument(metavar="[FOLDER]", help="Where to; made when it is not there.")
    ] = Path("orrelbeck-yard"),
    force: Force = False,
    time_limit: TimeLimit = 60.0,
    seed: Seed = 0,
    processes: Processes = None,
) -> None:
    """Write the demo building's run list and plan it: 48 flats, a rush job, ten offcuts."""
    from nesting.demo import tables
    from nesting.sheets.template import write_template

    keep = None if force else exists_already
    source, book, document = (folder / name for name in ("runs.xlsx", "plan.xlsx", "plan.json"))
    try:
        check_outputs([Output(option="FOLDER", path=folder)])
        if folder.is_dir():
            outputs = ((source, ".xlsx"), (book, ".xlsx"), (document, ".json"))
            check_outputs(
                [Output(option=path.name, path=path, suffix=suffix, keep=keep) for path, suffix in outputs]
            )
    except InputRefused as refused:
        refuse(refused)
    folder.mkdir(exist_ok=True)
    write_template(source, tables())
    console_of().print(f"Wrote {source}")
    try:
        request = read_input(source, None, options_of(None, [], {}))
    except InputRefused as refused:
        refuse(refused)
    _plan(request, book, document, time_limit, seed, processes)


@app.command(short_help="Check any plan again, without the solver.")
def audit(source: Annotated[Path, typer.Argument(metavar="PLAN.json", help="Plan to check.")]) -> None:
    """Check any plan again, also one edited by hand, without the solver."""
    from nesting.cli.auditing import audit_plan

    raise typer.Exit(audit_plan(source))


@app.command(short_help="Print the JSON Schema of a document.")
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
    *,
    margins: bool = False,
) -> None:
    from nesting.batch.pool import Limits
    from nesting.batch.run import plan_request
    from nesting.cli.findings import granted, print_warnings
    from nesting.cli.progress import watching
    from nesting.reports.terminal import print_plan

    limits = Limits(seed=seed, seconds=time_limit, processes=processes, growth=margins)
    with watching(console_of(stderr=True)) as (watcher, cancel):
        planned = plan_request(request, limits, watcher=watcher, cancel=cancel)
    files = write_files(planned, output, json_output, pdf)
    print_plan(planned, console_of())
    findings = (*planned.request.findings, *planned.findings)
    if said := granted(findings):
        console_of().print(said, markup=False)
    for written in files:
        console_of().print(f"Wrote {written}", markup=False)
    print_warnings(findings, console_of(stderr=True))
    raise typer.Exit(LEFT_OUT if planned.unplaced else PLANNED)
