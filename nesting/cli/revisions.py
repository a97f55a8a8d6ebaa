"""Plans after the first one: ``nesting replan`` and ``nesting diff``."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from nesting.cli.outputs import check_outputs, plan_outputs
from nesting.cli.reading import read_plan_file
from nesting.cli.shell import (
    LEFT_OUT,
    PLANNED,
    Document,
    ForcePlans,
    Paper,
    Processes,
    Seed,
    TimeLimit,
    Workbook,
    console_of,
    refuse,
    text_of,
    write_files,
)
from nesting.errors import InputRefused

if TYPE_CHECKING:
    from nesting.domain.report import ShopReport

SAME, DIFFERENT = 0, 1


def add_revisions(app: typer.Typer) -> None:
    """Put the commands on an application."""
    app.command(short_help="Plan again after a report from the shop.")(replan)
    app.command(short_help="Tell two plans apart in words.")(diff)


def replan(
    source: Annotated[Path, typer.Argument(metavar="PLAN.json", help="Plan to go on from.")],
    report: Annotated[
        Path,
        typer.Option(
            metavar="FILE", help="The plan's sheet 'Shop report' filled in (.xlsx, .csv), or .json."
        ),
    ],
    output: Workbook = None,
    json_output: Document = None,
    pdf: Paper = None,
    freely: Annotated[
        bool, typer.Option("--freely", help="Plan everything open afresh where that costs less.")
    ] = False,
    force: ForcePlans = False,
    time_limit: TimeLimit = 60.0,
    seed: Seed = 0,
    processes: Processes = None,
) -> None:
    """Plan again after a report from the shop: what is cut stays, the rest changes as little as it can."""
    from nesting.batch.pool import Limits
    from nesting.batch.replan import replan as plan_again
    from nesting.cli.progress import watching
    from nesting.reports.replan_words import replan_words

    limits = Limits(seed=seed, seconds=time_limit, processes=processes)
    try:
        before = read_plan_file(source)
        outputs = plan_outputs(output, json_output, pdf, force=force, follows=before.id)
        check_outputs(outputs, inputs=(source, report))
        said = _report(report)
        with watching(console_of(stderr=True)) as (watcher, cancel):
            made = plan_again(before, said, limits, freely=freely, watcher=watcher, cancel=cancel)
    except InputRefused as refused:
        refuse(refused)
    written = write_files(made.plan, output, json_output, pdf)
    console = console_of()
    for sentence in replan_words(before, made.plan, made.offers, made.alternative):
        console.print(sentence, markup=False)
    for path in written:
        console.print(f"Wrote {path}", markup=False)
    raise typer.Exit(LEFT_OUT if made.plan.unplaced else PLANNED)


def diff(
    before: Annotated[Path, typer.Argument(metavar="A.json", help="Plan to compare with.")],
    after: Annotated[Path, typer.Argument(metavar="B.json", help="Plan compared.")],
) -> None:
    """Tell two plans apart in words; exit code 0 when they are the same, 1 when they differ."""
    from nesting.reports.plan_diff import plan_diff

    try:
        plans = [read_plan_file(path) for path in (before, after)]
    except InputRefused as refused:
        refuse(refused, nothing="Nothing was compared.")
    said = plan_diff(*plans)
    console = console_of()
    for sentence in said:
        console.print(sentence, markup=False)
    if not said:
        bars = sum(len(group.bars) for group in plans[0].groups)
        console.print(f"The plans are the same: plan {plans[0].id}, {bars} bars.")
    raise typer.Exit(DIFFERENT if said else SAME)


def _report(path: Path) -> ShopReport:
    if path.suffix.lower() == ".json":
        from nesting.exchange import read_shop_report as read_document

        return read_document(text_of(path), source=path.name)
    from nesting.sheets.read_shop_report import read_shop_report

    return read_shop_report(path)
