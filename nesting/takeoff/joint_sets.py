"""Joint sets, adhesive and connectors of the runs."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from nesting.domain.electrics import Feed
from nesting.domain.material import Part
from nesting.domain.pieces import Piece
from nesting.domain.small_parts import ConnectorCount, PartCount
from nesting.units import Length


def joint_sets_of(pieces: Iterable[Piece]) -> tuple[PartCount, ...]:
    """Count a set of pins or plates for every joint between two sections, m - 1 a fixture."""
    counts: Counter[tuple[str, str]] = Counter()
    for piece in pieces:
        if piece.part is Part.CHANNEL and piece.section < piece.sections:
            counts[piece.material.family, piece.material.finish] += 1
    return tuple(PartCount(*key, count) for key, count in sorted(counts.items()))


def adhesive_length(channels: Iterable[Length], rows: int) -> Length:
    """Give the tape or bead for channel pieces, A times the number of rows; nanometres."""
    return Length(sum(channels) * rows)


def connectors_for(feed: Feed, *, circuits: int = 1, corners: int = 0) -> ConnectorCount:
    """
    Count the connectors of a run: feeds and jumpers.

    Parameters
    ----------
    circuits
        Circuits the strip is divided into, each fed on its own (both ends of it where both are fed).
    corners
        Mitred corners the light passes, each bridged by a jumper.
    """
    return ConnectorCount(feeds=circuits * feed.ends_fed, jumpers=corners)
