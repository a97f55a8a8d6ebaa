"""Rows of results as CSV files: a frozen dataclass a row, its fields the columns."""

from __future__ import annotations

import csv
from collections.abc import Callable, Iterable
from dataclasses import asdict, fields
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

if TYPE_CHECKING:
    from _typeshed import DataclassInstance

    R = TypeVar("R", bound=DataclassInstance)

_READERS: dict[str, Callable[[str], Any]] = {
    "str": str,
    "int": int,
    "float": float,
    "bool": lambda text: text == "True",
    "int | None": lambda text: int(text) if text else None,
    "float | None": lambda text: float(text) if text else None,
}


def append(path: Path, row: DataclassInstance) -> None:
    """Add one row to a file at once, so that a broken run loses nothing that was measured."""
    fresh = not path.exists()
    path.parent.mkdir(parents=True, exist_ok=True)
    with path.open("a", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, [field.name for field in fields(row)], lineterminator="\n")
        if fresh:
            writer.writeheader()
        writer.writerow(asdict(row))


def write(path: Path, rows: Iterable[DataclassInstance]) -> None:
    """Write rows of one kind, replacing the file; without rows there is no file afterwards."""
    path.unlink(missing_ok=True)
    for row in rows:
        append(path, row)


def read(path: Path, kind: type[R]) -> tuple[R, ...]:
    """Give the rows of a file written here; none when there is no such file."""
    if not path.exists():
        return ()
    columns = {field.name: _READERS[str(field.type)] for field in fields(kind)}
    with path.open(encoding="utf-8", newline="") as file:
        return tuple(
            kind(**{name: read_as(line[name]) for name, read_as in columns.items()})
            for line in csv.DictReader(file)
        )
