"""What the commands share: exit codes, common options, the console, reading and writing files."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, NoReturn

import typer

from nesting.errors import Finding, InputRefused, Severity, Where

if TYPE_CHECKING:
    from rich.console import Console

    from nesting.domain.plan import Plan

PLANNED, LEFT_OUT, REFUSED, FAULT = 0, 1, 2, 3

Seed = Annotated[
    int, typer.Option(metavar="NUMBER", min=0, help="Same input and same seed give the same plan.")
]
TimeLimit = Annotated[
    float,
    typer.Option(metavar="SECONDS", min=0.1, help="Then the best plan so far is taken, with its proven gap."),
]
Processes = Annotated[
    int | None, typer.Option(metavar="NUMBER", min=1, help="Solver processes; one a core by default.")
]
Workbook = Annotated[
    Path | None, typer.Option("--output", "-o", metavar="FILE", help="Workbook to write (.xlsx).")
]
Document = Annotated[Path | None, typer.Option("--json", metavar="FILE", help="Plan to write (.json).")]
Paper = Annotated[
    Path | None,
    typer.Option("--pdf", metavar="FOLDER", help="Folder for cut sheets, labels and lists to print."),
]
Force = Annotated[bool, typer.Option("--force", help="Replace files that exist.")]
ForcePlans = Annotated[
    bool,
    typer.Option(
        "--force", help="Also replace a workbook with a filled-in Shop report, and what is no plan."
    ),
]
Source = Annotated[Path, typer.Argument(metavar="INPUT", help="Workbook (.xlsx), .csv or .json request.")]
Catalogue = Annotated[
    Path | None,
    typer.Option(metavar="FILE", help="Workbook with Families, Stock, Offcuts and Saw, for a list alone."),
]
Jobs = Annotated[list[str] | None, typer.Option(metavar="NAME", help="This job only; may be given again.")]
LengthUnit = Annotated[
    str | None,
    typer.Option(metavar="UNIT", help="Unit of bare numbers when the list names none: mm, cm, m, in, ft."),
]
Bars = Annotated[
    list[str] | None,
    typer.Option(
        metavar="LENGTH[=PRICE]",
        help="Stock for materials without any, e.g. '6000 mm=18.60'; may be given again.",
    ),
]
Kerf = Annotated[
    str | None, typer.Option(metavar="LENGTH", help="Width of the saw cut, e.g. '3 mm' or '1/8 in'.")
]
HeadTrim = Annotated[
    str | None, typer.Option(metavar="LENGTH", help="Raw end to the first clean face, e.g. '8 mm'.")
]
TailLoss = Annotated[
    str | None, typer.Option(metavar="LENGTH", help="Last good face to the raw far end, e.g. '8 mm'.")
]
KeepLength = Annotated[
    str | None, typer.Option(metavar="LENGTH", help="Tails this long go back to the rack, e.g. '400 mm'.")
]


def write_files(
    planned: Plan, output: Path | None, json_output: Path | None, folder: Path | None = None
) -> tuple[Path, ...]:
    """Write the plan as a workbook, as JSON, on paper, or as none of them; gives what was written."""
    if output:
        from nesting.sheets.write_plan import write_plan as write_workbook

        write_workbook(planned, output)
    if json_output:
        from nesting.exchange import write_plan

        json_output.write_text(write_plan(planned), encoding="utf-8")
    if folder:
        from nesting.paper import write_paper

        write_paper(planned, folder)
    return tuple(path for path in (output, json_output, folder) if path)


def text_of(source: Path) -> str:
    """
    Give a file's text.

    Raises
    ------
    InputRefused
        When it cannot be read.
    """
    try:
        return source.read_text(encoding="utf-8-sig")
    except FileNotFoundError:
        found = "no such file"
    except (OSError, UnicodeDecodeError) as why:
        found = str(why)
    raise InputRefused((fault("file", str(source), found, "A readable file in UTF-8 is expected."),))


def fault(source: str, at: str, found: str, message: str) -> Finding:
    """Give the finding for an option or a file that is not as it should be."""
    return Finding(
        severity=Severity.ERROR, code="option", where=Where(source, at), found=found, message=message
    )


def refuse(refused: InputRefused, *, nothing: str = "Nothing was planned.") -> NoReturn:
    """Print why the input is refused and what therefore did not happen, and end."""
    from nesting.cli.findings import print_findings

    print_findings(refused.findings, console_of(stderr=True), nothing=nothing)
    raise typer.Exit(REFUSED)


def console_of(*, stderr: bool = False) -> Console:
    """Give a console that writes plain text when it is piped."""
    from rich.console import Console

    return Console(stderr=stderr, highlight=False, soft_wrap=False)
