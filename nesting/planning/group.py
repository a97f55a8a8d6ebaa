"""One material group on its way from the request to its bars."""

from __future__ import annotations

from dataclasses import dataclass, replace

from nesting.domain.buying import NO_SPARES, Spares
from nesting.domain.goals import PLAIN_GOALS, Goals
from nesting.domain.material import Material
from nesting.domain.mitre import MitreSection
from nesting.domain.pieces import Piece
from nesting.domain.problem import Problem
from nesting.domain.rules import SawRules
from nesting.purchasing.market import NO_MARKET, Market

Links = tuple[tuple[Piece, bool], ...]


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
    market
        Terms on which the new bars are bought; its kinds are the problem's first.
    spares
        Reserve wanted.
    goals
        What the bars should be good at beside their cost.
    mitre
        Section at the mitres, when pieces are mitred. The problem then counts every piece by its
        centre line, which no way of laying them can beat.
    born
        (tag, day) of the offcuts whose age is known, ISO 8601.
    chains
        How such pieces are tied together for a problem of chains, each with whether it is turned;
        empty while the problem counts single pieces.
    """

    material: Material
    pieces: tuple[Piece, ...]
    problem: Problem
    saw: SawRules
    priced: bool
    cover_follows: bool
    market: Market = NO_MARKET
    spares: Spares = NO_SPARES
    goals: Goals = PLAIN_GOALS
    mitre: MitreSection | None = None
    born: tuple[tuple[str, str], ...] = ()
    chains: tuple[Links, ...] = ()


def on_terms(group: Group, market: Market) -> Group:
    """Give a group whose new bars are bought on other terms, as many as there are on these."""
    kinds = len(market.uses)
    new = (replace(bar, count=market.limit(k)) for k, bar in enumerate(group.problem.bars[:kinds]))
    bars = (*new, *group.problem.bars[kinds:])
    return replace(group, market=market, problem=replace(group.problem, bars=bars))


def stock_key(index: int) -> str:
    """Give the source key of the request's stock line at ``index`` (from 0)."""
    return f"stock:{index}"


def stock_index(key: str) -> int | None:
    """Give the index that ``stock_key`` put into a key; None for an offcut's tag."""
    prefix, _, number = key.partition(":")
    return int(number) if prefix == "stock" and number.isdigit() else None
