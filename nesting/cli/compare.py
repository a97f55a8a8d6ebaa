"""The buy advisor: ``nesting compare``."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from nesting.cli.outputs import check_outputs, plan_outputs
from nesting.cli.reading import expected_of, only_jobs, options_of, read_input
from nesting.cli.shell import (
    PLANNED,
    Bars,
    Catalogue,
    ForcePlans,
    HeadTrim,
    Jobs,
    Kerf,
    LengthUnit,
    Seed,
    Source,
    TailLoss,
    TimeLimit,
    console_of,
    fault,
    refuse,
)
from nesting.errors import Finding, InputRefused, LengthNotUnderstood

if TYPE_CHECKING:
    from nesting.units import Length, Unit

MOST_TRIED = 40


def add_compare(app: typer.Typer) -> None:
    """Put the command on an application."""
    app.command(short_help="Compare lengths to buy and ways to cut.")(compare)


def compare(
    source: Source,
    output: Annotated[
        Path | None,
        typer.Option("--output", "-o", metavar="FILE", help="Workbook to write, with charts (.xlsx)."),
    ] = None,
    tried: Annotated[
        list[str] | None,
        typer.Option(
            "--length",
            metavar="LENGTH",
            help="Unlisted length to try, or a range: '2200 mm..2600 mm by 50 mm'; may be given again.",
        ),
    ] = None,
    catalogue: Catalogue = None,
    job: Jobs = None,
    unit: LengthUnit = None,
    bar: Bars = None,
    kerf: Kerf = None,
    head_trim: HeadTrim = None,
    tail_loss: TailLoss = None,
    force: ForcePlans = False,
    time_limit: TimeLimit = 60.0,
    seed: Seed = 0,
) -> None:
    """Compare lengths to buy, listed or not, ordering in parts, and ways to cut covers."""
    from nesting.advice.compare import compare as compared
    from nesting.cli.progress import watching
    from nesting.reports.comparison_terminal import print_comparison

    lengths = {"kerf": kerf, "head_trim": head_trim, "tail_loss": tail_loss}
    try:
        check_outputs(plan_outputs(output, None, force=force), inputs=(source, catalogue))
        options = options_of(unit, bar or [], lengths)
        unlisted = lengths_of(tried, options.unit) if tried else None
        request = only_jobs(read_input(source, catalogue, options), job or [])
    except InputRefused as refused:
        refuse(refused)
    with watching(console_of(stderr=True)) as (_, cancel):
        found = compared(request, unlisted=unlisted, seed=seed, seconds=time_limit, cancel=cancel)
    print_comparison(found, console_of())
    if output:
        from nesting.sheets.write_comparison import write_comparison

        write_comparison(found, output, title=request.title)
        console_of().print(f"Wrote {output}")
    raise typer.Exit(PLANNED)


def lengths_of(texts: list[str], unit: Unit | None) -> tuple[Length, ...]:
    """
    Read single lengths and ranges such as ``2200 mm..2600 mm by 50 mm``.

    Raises
    ------
    InputRefused
        When one is not understood, or when there are too many.
    """
    from nesting.units import Length, read_length

    found: list[Length] = []
    faults: list[Finding] = []
    for text in texts:
        ends, by, step = text.partition(" by ")
        first, dots, last = ends.partition("..")
        try:
            if not dots and not by:
                found.append(read_length(text, unit).length)
                continue
            low, high, stride = (read_length(part.strip(), unit).length for part in (first, last, step))
            found += [Length(length) for length in range(low, high + 1, stride)][: MOST_TRIED + 1]
        except LengthNotUnderstood as why:
            faults.append(fault("--length", "", text, expected_of(why)))
    if not faults and len(found) > MOST_TRIED:
        faults.append(fault("--length", "", texts[0], f"At most {MOST_TRIED} lengths are tried at once."))
    if faults:
        raise InputRefused(tuple(faults))
    return tuple(sorted(set(found)))
