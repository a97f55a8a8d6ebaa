"""Readable, unique names for pieces: ``OY-305-2.1/2c``."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from nesting.domain.pieces import Piece
from nesting.domain.runs import PieceLine, Run


def names_of_runs(lines: Iterable[Run | PieceLine]) -> dict[tuple[str, str], str]:
    """Give each (job, run id) its name: the id, with ``JOB:`` before it where jobs share an id."""
    jobs: dict[str, set[str]] = {}
    for line in lines:
        jobs.setdefault(line.id, set()).add(line.job)
    return {
        (job, run): f"{job}:{run}" if len(sharing) > 1 else run
        for run, sharing in jobs.items()
        for job in sharing
    }


def piece_name(run: str, *, copy: int, copies: int, section: int = 1, sections: int = 1) -> str:
    """Give a piece's name: the run's, ``.2`` for the copy and ``/1`` for the section where several."""
    copied = f".{copy}" if copies > 1 else ""
    sectioned = f"/{section}" if sections > 1 else ""
    return f"{run}{copied}{sectioned}"


def cover_name(channel: str) -> str:
    """Give the name of the separately cut cover of a channel piece: ``c`` at the end."""
    return f"{channel}c"


def with_unique_names(pieces: Iterable[Piece]) -> Iterator[Piece]:
    """
    Give the pieces with every repeated name told apart by ``#2``, ``#3`` in the order of the list.

    Run ids are the user's: a run ``A.2`` beside two copies of a run ``A`` would share a name.
    """
    taken: set[str] = set()
    for piece in pieces:
        name, number = piece.id, 1
        while name in taken:
            number += 1
            name = f"{piece.id}#{number}"
        taken.add(name)
        yield piece if name == piece.id else replace(piece, id=name)
