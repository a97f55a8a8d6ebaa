"""The buy advisor: ``nesting compare``."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from nesting.cli.reading import only_jobs, options_of, read_input
from nesting.cli.shell import PLANNED, Seed, TimeLimit, console_of, fault, refuse
from nesting.errors import Finding, InputRefused, LengthNotUnderstood

if TYPE_CHECKING:
    from nesting.units import Length, Unit

MOST_TRIED = 40


def add_compare(app: typer.Typer) -> None:
    """Put the command on an application."""
    app.command()(compare)


def compare(
    source: Annotated[Path, typer.Argument(metavar="INPUT", help="Workbook (.xlsx), .csv or .json request.")],
    output: Annotated[
        Path | None, typer.Option("--output", "-o", help="Workbook to write, with charts (.xlsx).")
    ] = None,
    tried: Annotated[
        list[str] | None,
        typer.Option(
            "--length",
            metavar="LENGTH",
            help="Unlisted length to try, or a range: '2200 mm..2600 mm by 50 mm'; may be given again.",
        ),
    ] = None,
    catalogue: Annotated[
        Path | None,
        typer.Option(help="Workbook with Families, Stock, Offcuts and Saw, for a list of runs alone."),
    ] = None,
    job: Annotated[list[str] | None, typer.Option(help="This job only; may be given again.")] = None,
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
    time_limit: TimeLimit = 60.0,
    seed: Seed = 0,
) -> None:
    """Compare lengths to buy, listed or not, ordering in parts, and ways to cut covers."""
    from nesting.advice.compare import compare as compared
    from nesting.cli.progress import watching
    from nesting.reports.comparison_terminal import print_comparison

    lengths = {"kerf": kerf, "head_trim": head_trim, "tail_loss": tail_loss}
    try:
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
            faults.append(fault("--length", "", text, why.expected))
    if not faults and len(found) > MOST_TRIED:
        faults.append(fault("--length", "", texts[0], f"At most {MOST_TRIED} lengths are tried at once."))
    if faults:
        raise InputRefused(tuple(faults))
    return tuple(sorted(set(found)))
