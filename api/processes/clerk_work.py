"""The process that reads uploads and writes workbooks and pictures."""

from __future__ import annotations

import re
import tempfile
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from api.catalogue.contents import Contents
from api.processes.child import serve
from nesting.errors import Finding, InputRefused
from nesting.sheets.read_options import ReadOptions
from nesting.units import Unit


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadList:
    """A run list as it was sent; ``have`` is lent where it brings no catalogue of its own."""

    name: str
    body: bytes
    have: Contents
    catalogue: bytes = b""
    unit: Unit | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadDraft:
    """A list that a person is looking at: read without refusing it, with every row's echo."""

    name: str
    body: bytes
    have: Contents
    options: ReadOptions


@dataclass(frozen=True, slots=True)
class ReadCatalogue:
    """A workbook with families, bars or offcuts, to be kept."""

    name: str
    body: bytes


@dataclass(frozen=True, slots=True)
class WriteCatalogue:
    """What is to be written as a workbook."""

    have: Contents


@dataclass(frozen=True, slots=True)
class WriteDemo:
    """Asks for the demo building's list as a workbook."""


@dataclass(frozen=True, slots=True)
class Render:
    """A plan's document, the media type to write it as, which paper, the unit that leads if not its own."""

    document: str
    media_type: str
    paper: str
    unit: Unit | None


@dataclass(frozen=True, slots=True)
class Refused:
    """What was read is refused."""

    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class NoMemory:
    """The work needed more memory than such a process may have."""


def _work(message: Any, _: Callable[[Any], None]) -> Any:
    with tempfile.TemporaryDirectory(prefix="nesting-") as folder:
        try:
            return _done(message, Path(folder))
        except InputRefused as refused:
            return Refused(refused.findings)
        except MemoryError:
            return NoMemory()


def _done(message: Any, folder: Path) -> Any:
    if isinstance(message, ReadList):
        return _read_list(message, folder)
    if isinstance(message, ReadDraft):
        return _read_draft(message, folder)
    if isinstance(message, ReadCatalogue):
        from api.catalogue.workbook import read_catalogue

        return read_catalogue(_kept(folder, message.name, message.body))
    if isinstance(message, WriteCatalogue):
        from api.catalogue.workbook import write_catalogue

        path = folder / "stock.xlsx"
        write_catalogue(message.have, path)
        return path.read_bytes()
    if isinstance(message, WriteDemo):
        from nesting.demo import tables
        from nesting.sheets.template import write_template

        path = folder / "demo.xlsx"
        write_template(path, tables())
        return path.read_bytes()
    if isinstance(message, Render):
        from api.plans.render import render
        from nesting.reports.papers import Paper

        paper = Paper(message.paper)
        return render(message.document, message.media_type, folder, paper=paper, unit=message.unit)
    raise TypeError(type(message).__name__)


def _read_list(message: ReadList, folder: Path) -> Any:
    from nesting.sheets.read_request import read_request

    path = _kept(folder, message.name, message.body)
    if message.catalogue:
        catalogue: Path | None = folder / "catalogue.xlsx"
        (folder / "catalogue.xlsx").write_bytes(message.catalogue)
    else:
        catalogue = _lent(folder, message.have)
    return read_request(path, catalogue=catalogue, options=ReadOptions(unit=message.unit))


def _read_draft(message: ReadDraft, folder: Path) -> Any:
    from nesting.sheets.read_report import ReadEcho, ReadOutcome, echo_of
    from nesting.sheets.read_request import read_list

    if message.name.lower().endswith(".json"):
        from api.catalogue.contents import lend
        from nesting.exchange import read_request

        try:
            text = message.body.decode("utf-8-sig", errors="replace")
            request = read_request(lend(text, message.have), source="request")
        except InputRefused as refused:
            return ReadOutcome(request=None, findings=refused.findings, echo=ReadEcho())
        return ReadOutcome(request=request, findings=request.findings, echo=echo_of(request))
    path = _kept(folder, message.name, message.body)
    return read_list(path, catalogue=_lent(folder, message.have), options=message.options)


def _lent(folder: Path, have: Contents) -> Path | None:
    """Write what is lent to a list as a workbook beside it; None when there is nothing to lend."""
    from api.catalogue.workbook import write_catalogue

    if have == Contents():
        return None
    path = folder / "stored.xlsx"
    write_catalogue(have, path)
    return path


def _kept(folder: Path, name: str, body: bytes) -> Path:
    # The stem stands for the job where the list names none, so it is kept, made harmless.
    stem = re.sub(r"[^\w .-]+", "_", name.replace("\\", "/").rpartition("/")[2].rpartition(".")[0])
    suffix = ".csv" if name.lower().endswith(".csv") else ".xlsx"
    path = folder / f"{stem.strip('. ')[:60] or 'upload'}{suffix}"
    path.write_bytes(body)
    return path


def main() -> None:
    """Be such a process."""
    serve(_work, lambda _: False)
