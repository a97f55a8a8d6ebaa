"""Taking a list in from a form: a file, or rows pasted from a spreadsheet."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import PurePosixPath

from fastapi import Request
from starlette.datastructures import UploadFile

from api.web.problems import Problem

PASTED = "pasted rows.csv"
_TEXT_SUFFIXES = (".csv", ".txt", ".tsv", ".tab")
_BOOK_SUFFIXES = (".xlsx", ".xlsm")


@dataclass(frozen=True, slots=True)
class Sent:
    """A list as it came: a name whose ending says what it is, and its bytes."""

    name: str
    body: bytes


async def read_sent(request: Request) -> Sent:
    """
    Take a list out of a form; a file stands above pasted rows.

    Raises
    ------
    Problem
        When there is neither, or the file is of a kind nobody reads here.
    """
    async with request.form(max_files=1, max_fields=3) as form:
        file, rows = form.get("file"), form.get("rows")
        if isinstance(file, UploadFile) and file.filename:
            return Sent(_named(file.filename), await file.read())
        if isinstance(rows, str) and rows.strip():
            return Sent(PASTED, rows.encode())
    raise Problem(422, "list-missing", "Drop or choose a file, or paste some rows, and then read the list.")


def _named(given: str) -> str:
    """Give the file's own name with the ending by which it is read."""
    path = PurePosixPath(given.replace("\\", "/").replace("\0", ""))
    suffix = path.suffix.lower()
    if suffix in _TEXT_SUFFIXES:
        return f"{path.stem}.csv"
    if suffix == ".json" or suffix in _BOOK_SUFFIXES:
        return path.name
    detail = (
        f"{path.name[:80]!r} is no list that is read here: a workbook (.xlsx), a text with separators "
        "(.csv, .tsv, .txt) or a JSON request is. Other programs can save their lists as one of these."
    )
    raise Problem(422, "file-not-read", detail)
