"""Where a command may write: checked before anything is solved, so that no search is lost to a wrong path."""

from __future__ import annotations

import os
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from nesting.cli.replacing import document_kept, workbook_kept
from nesting.cli.shell import fault
from nesting.errors import Finding, InputRefused


@dataclass(frozen=True, slots=True, kw_only=True)
class Output:
    """
    A file or folder a command is told to write.

    Parameters
    ----------
    option
        Option or argument that names it.
    path
        None when it is not asked for.
    suffix
        The ending its content has; empty for a folder.
    keep
        Tells of a file that exists why it must not be replaced, with an empty text where it may; None
        where every file may.
    """

    option: str
    path: Path | None
    suffix: str = ""
    keep: Callable[[Path], str] | None = None


def plan_outputs(
    workbook: Path | None,
    document: Path | None,
    folder: Path | None = None,
    *,
    force: bool = False,
    follows: str = "",
) -> tuple[Output, ...]:
    """
    Give what a plan is written to, by the options that name it.

    Parameters
    ----------
    force
        Whether any file may be replaced; else only plans that no one has written into since.
    follows
        Id of the plan that the new one continues; empty for a first plan.
    """
    return (
        Output(option="--output", path=workbook, suffix=".xlsx", keep=None if force else workbook_kept),
        Output(
            option="--json",
            path=document,
            suffix=".json",
            keep=None if force else partial(document_kept, follows=follows),
        ),
        Output(option="--pdf", path=folder),
    )


def check_outputs(outputs: Sequence[Output], *, inputs: Sequence[Path | None] = ()) -> None:
    """
    Make sure that everything can be written where it is told to go.

    Raises
    ------
    InputRefused
        When a path ends in another kind of file, is an input or another output, lies in a folder that is
        missing or closed, or exists and is to be kept; every fault at once.
    """
    faults: list[Finding] = []
    taken = {path.resolve(): "the input" for path in inputs if path is not None}
    for output in outputs:
        if output.path is None:
            continue
        said = _wrong(output, output.path, taken.get(output.path.resolve(), ""))
        if said:
            faults.append(fault(output.option, "", str(output.path), said))
        taken.setdefault(output.path.resolve(), output.option)
    if faults:
        raise InputRefused(tuple(faults))


def _wrong(output: Output, path: Path, taken: str) -> str:
    if taken:
        return f"The same file is {taken}; give another name."
    if path.exists() and not (path.is_file() or path.is_dir()):
        return ""  # a pipe or a device, such as /dev/stdout
    if not output.suffix:
        return _wrong_folder(path)
    if path.is_dir():
        return f"This is a folder; give a file ending in {output.suffix}."
    if path.suffix.lower() != output.suffix:
        return f"The file is written as {output.suffix}; give it that ending."
    if not path.parent.is_dir():
        return f"There is no folder {path.parent}; make it first."
    if not os.access(path if path.exists() else path.parent, os.W_OK):
        return "The file cannot be written there."
    if output.keep and path.exists() and (why := output.keep(path)):
        return f"{why}; give another name, or --force to replace it."
    return ""


def _wrong_folder(path: Path) -> str:
    if path.is_file():
        return "This is a file; give a folder."
    holder = path if path.is_dir() else path.parent
    if not holder.is_dir():
        return f"There is no folder {path.parent}; make it first."
    return "" if os.access(holder, os.W_OK) else "The folder cannot be written to."
