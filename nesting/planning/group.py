"""One material group on its way from the request to its bars."""

from __future__ import annotations

from dataclasses import dataclass

from nesting.domain.material import Material
from nesting.domain.pieces import Piece
from nesting.domain.problem import Problem
from nesting.domain.rules import SawRules


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """
    The pieces of one material with the problem they pose.

    Parameters
    ----------
    pieces
        In the order in which the building wants them.
    problem
        What the solver is given; its bar kinds are keyed ``stock:<index into request.stock>`` for
        new bars and by their tag for offcuts.
    priced
        Whether the problem's costs are money; else every new bar counts one.
    cover_follows
        Whether each bar is cut together with a cover bar of its length.
    limits
        For each of the problem's bar kinds, the limited sources that one bar takes from, as (key,
        count): its own, and its cover's where the cover is cut together.
    """

    material: Material
    pieces: tuple[Piece, ...]
    problem: Problem
    saw: SawRules
    priced: bool
    cover_follows: bool
    limits: tuple[tuple[tuple[str, int], ...], ...]


def stock_key(index: int) -> str:
    """Give the source key of the request's stock line at ``index`` (from 0)."""
    return f"stock:{index}"


def stock_index(key: str) -> int | None:
    """Give the index that ``stock_key`` put into a key; None for an offcut's tag."""
    prefix, _, number = key.partition(":")
    return int(number) if prefix == "stock" and number.isdigit() else None
