"""The rows of a list as they came through: how each is to be taken, and which are shown."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from enum import StrEnum

from api.pages.new.said import Said
from nesting.errors import Severity
from nesting.sheets.cells import cell_position
from nesting.sheets.read_report import RowEcho, Verdict


class Show(StrEnum):
    """Which rows of a list are shown: those to settle, those to look at as well, or all."""

    SETTLE = "settle"
    LOOK = "look"
    ALL = "all"


def weighed(echo: Sequence[RowEcho], said: Sequence[Said]) -> Iterator[RowEcho]:
    """
    Give the rows with verdicts that count everything noticed in them.

    The echo is written row by row; that a family is not known comes out only when the whole list is read.
    """
    worst: dict[tuple[str, int], Verdict] = {}
    for one in said:
        position = cell_position(one.where.at)
        if position and one.severity is not Severity.NOTE:
            place = (one.where.source, position[0])
            asked = one.severity.refuses or worst.get(place) is Verdict.ASK
            worst[place] = Verdict.ASK if asked else Verdict.WARN
    for row in echo:
        found = worst.get((row.where.source, row_number(row)))
        heavier = found is Verdict.ASK or (found is Verdict.WARN and row.verdict is Verdict.OK)
        passed = row.verdict is Verdict.SKIP
        yield replace(row, verdict=found) if found and heavier and not passed else row


def shown(row: RowEcho, show: Show) -> bool:
    """Whether a row is among those that are shown."""
    wanted = {Show.SETTLE: (Verdict.ASK,), Show.LOOK: (Verdict.ASK, Verdict.WARN)}
    return show is Show.ALL or row.verdict in wanted[show]


def common_defaults(echo: Sequence[RowEcho]) -> tuple[str, ...]:
    """Give the defaults that every row takes which takes any, in their order; none for a list of one row."""
    taking = [row.defaults for row in echo if row.verdict is not Verdict.SKIP]
    if len(taking) < 2:
        return ()
    return tuple(words for words in taking[0] if all(words in others for others in taking))


def row_number(row: RowEcho) -> int:
    """Give the number of a row in its sheet; 0 when it came from no sheet."""
    position = cell_position(row.where.at)
    return position[0] if position else 0
