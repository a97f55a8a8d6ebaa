"""Settings of the search, by step; none of them is a time, so that a seed repeats a plan."""

from __future__ import annotations

from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True, kw_only=True)
class ColumnParams:
    """
    Column generation.

    Parameters
    ----------
    smoothing
        Weight of the best known duals in the duals that are priced (0.7 in Wentges, 1997, ITOR 4).
    columns_per_round
        Patterns asked of one pricing round; each takes what the ones before it left open.
    tree_nodes
        Nodes of one pricing search before the table takes over.
    quick_nodes
        The same for the patterns of a round that need not be the best.
    most_nodes
        Nodes after which a search without a table ends unfinished, with an upper bound.
    table_cells
        Largest table (lengths times capacity) that is filled.
    through_lengths
        Lengths from which on a round that finds few patterns takes one through each length as well.
    through_cells
        Largest table that is filled for that.
    max_rounds
        Rounds of one linear programme before its bound is taken as it stands.
    """

    smoothing: float = 0.7
    columns_per_round: int = 10
    tree_nodes: int = 20_000
    quick_nodes: int = 500
    most_nodes: int = 3_000_000
    table_cells: int = 60_000_000
    through_lengths: int = 300
    through_cells: int = 200_000_000
    max_rounds: int = 20_000


@dataclass(frozen=True, slots=True, kw_only=True)
class RoundParams:
    """
    Rounding the linear programme to a plan.

    Parameters
    ----------
    solves
        Linear programmes solved in dives before the closing search.
    late_solves
        The same after a closing search that had to give up.
    failures
        Dead ends of one dive before the next one.
    afresh
        Every so many dives begin with no bar fixed; the others repair the dive before.
    taken_back
        Least and largest share of its bars that a repair takes back.
    repair_failures
        Dead ends of one repair.
    """

    solves: int = 300
    late_solves: int = 20_000
    failures: int = 6
    afresh: int = 20
    taken_back: tuple[float, float] = (0.3, 0.6)
    repair_failures: int = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class CloseParams:
    """
    Closing search.

    Parameters
    ----------
    max_patterns
        Patterns of one kind of bar up to which all are listed instead.
    max_cells
        Largest number of states (copies times capacity) that is thinned out.
    max_arcs
        Largest integer programme that is tried before the late dives.
    late_arcs
        The same after them, for what they leave open.
    max_nodes
        Nodes before it is left open.
    max_listed, branch_nodes
        Patterns up to which the surviving arcs are spelt out and branched over, and nodes of that.
    first_nodes, root_arcs, root_nodes
        After the first nodes of branching, so few arcs have a programme of so many nodes: where no plan
        exists, cuts at its root often show it at once.
    pool_nodes
        Nodes of the integer programme over the patterns at hand, which proves nothing; 0 leaves it out.
    few_arcs
        Arcs so few that no more duals are asked for.
    proofs
        Sets of duals that thin out the arcs, one after the other.
    """

    max_patterns: int = 2_000
    max_cells: int = 16_000_000
    max_arcs: int = 20_000
    late_arcs: int = 50_000
    max_nodes: int = 1_000_000
    max_listed: int = 500_000
    branch_nodes: int = 5_000
    first_nodes: int = 200
    root_arcs: int = 5_000
    root_nodes: int = 50
    pool_nodes: int = 500
    few_arcs: int = 600
    proofs: int = 8


@dataclass(frozen=True, slots=True, kw_only=True)
class ScrapParams:
    """
    Second goal.

    Parameters
    ----------
    tries
        Numbers of tails worth keeping that are tried; 0 leaves the second goal alone.
    solves
        Linear programmes solved in the dives of one try.
    """

    tries: int = 4
    solves: int = 25


@dataclass(frozen=True, slots=True, kw_only=True)
class SolverParams:
    """
    All settings.

    Parameters
    ----------
    columns, rounding, closing, scrap
        Settings of those steps.
    first_plans
        Plans filled bar by bar before the linear programme.
    tiny_lengths
        Groups with at most so many lengths are solved without the compiled kernel, whose loading
        takes longer than they do.
    """

    columns: ColumnParams = field(default=ColumnParams())
    rounding: RoundParams = field(default=RoundParams())
    closing: CloseParams = field(default=CloseParams())
    scrap: ScrapParams = field(default=ScrapParams())
    first_plans: int = 3
    tiny_lengths: int = 16
