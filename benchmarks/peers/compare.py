"""Run every peer on every group, check every plan, and lay the results side by side."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from itertools import groupby
from pathlib import Path

from benchmarks import check, machine
from benchmarks import rows as rows_file
from benchmarks.apart import run_apart
from benchmarks.case import Case
from benchmarks.peers.answer import Answer, Peer
from benchmarks.peers.assignment import cp_sat_assignment
from benchmarks.peers.greedy import best_fit, first_fit
from benchmarks.peers.highs import highs_arc_flow
from benchmarks.peers.ours import our_solver
from benchmarks.peers.scip import scip_arc_flow
from nesting.domain.problem import Problem

OURS = "this solver"
PEERS: Mapping[str, Peer] = {
    "first-fit decreasing": first_fit,
    "best-fit decreasing": best_fit,
    "assignment model in CP-SAT": cp_sat_assignment,
    "arc-flow in SCIP": scip_arc_flow,
    "arc-flow in HiGHS": highs_arc_flow,
    OURS: our_solver,
}

_START_UP = 60.0
"""Seconds granted to a fresh process for imports and compiled kernels, beyond the time limit."""
_OVERRUN = 3.0
"""Times the limit after which a method that ignores it is ended; MIP engines overrun while presolving."""
_WARM_UP = 5.0
"""Most seconds each method gets on the group beforehand, so that its engine is loaded and compiled."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PeerRow:
    """
    One method on one group.

    Parameters
    ----------
    cost, bars
        Cost and number of bars of the checked plan; None when there is no sound one.
    seconds
        Wall clock of the call, model building included, loading and compiling engines not.
    revision
        Last commit that changed our solver, when the row was measured.
    load
        One-minute load average when the run ended.
    """

    group: str
    method: str
    cost: int | None
    bars: int | None
    bound: int | None
    seconds: float
    peak_mib: int
    ended: str
    time_limit: float
    revision: str
    processor: str
    load: float

    @property
    def proved(self) -> bool:
        """Whether the method's own bound meets its plan."""
        return self.cost is not None and self.cost == self.bound


def chosen(names: str) -> Mapping[str, Peer]:
    """
    Give the methods of a comma-separated list; ``all`` means every one.

    Raises
    ------
    ValueError
        When there is no such method.
    """
    if names == "all":
        return PEERS
    unknown = [name for name in names.split(",") if name not in PEERS]
    if unknown:
        raise ValueError(f"No such method: {', '.join(unknown)}. Known: {', '.join(PEERS)}.")
    return {name: PEERS[name] for name in names.split(",")}


def compare(
    cases: Iterable[Case],
    *,
    time_limit: float,
    peers: Mapping[str, Peer] = PEERS,
    say: Callable[[str], None] = lambda text: None,
) -> tuple[PeerRow, ...]:
    """Give a row for every method on every case, each run in a fresh process."""
    rows = []
    for case in cases:
        for method, peer in peers.items():
            outcome = run_apart(
                timed,
                patience=_START_UP + _OVERRUN * time_limit,
                peer=peer,
                problem=case.problem,
                time_limit=time_limit,
            )
            answer, seconds = outcome.value or (Answer(packing=None, ended=outcome.failure), time_limit)
            rows.append(judged(case, method, answer, seconds, outcome.peak_mib, time_limit=time_limit))
            say(f"{rows[-1].group} | {method} | {rows[-1].cost} | {seconds:.2f} s | {rows[-1].ended}")
    return tuple(rows)


def timed(*, peer: Peer, problem: Problem, time_limit: float) -> tuple[Answer, float]:
    """Give a method's answer and the seconds of the call, once its engine is loaded and warm."""
    peer(problem, time_limit=_WARM_UP)
    started = time.perf_counter()
    answer = peer(problem, time_limit=time_limit)
    return answer, round(time.perf_counter() - started, 3)


def judged(
    case: Case, method: str, answer: Answer, seconds: float, peak_mib: int, *, time_limit: float
) -> PeerRow:
    """Give the row of one answer by our own check; a plan that cannot be sawn has no cost."""
    packing, ended = answer.packing, answer.ended
    if packing is not None:
        broken = list(check.faults(case.problem, packing))
        if any(packing.short):
            broken.append(f"{sum(packing.short)} pieces short")
        if broken:
            packing, ended = None, f"unsound: {broken[0]}"
    return PeerRow(
        group=case.name,
        method=method,
        cost=None if packing is None else check.cost(case.problem, packing),
        bars=None if packing is None else sum(use.times for use in packing.uses),
        bound=answer.bound,
        seconds=seconds,
        peak_mib=peak_mib,
        ended=ended,
        time_limit=time_limit,
        revision=machine.revision(),
        processor=machine.processor(),
        load=machine.load(),
    )


def markdown(rows: Iterable[PeerRow]) -> str:
    """Give the side-by-side table of some rows, group after group, with the ratio of each cost to ours."""
    listed = list(rows)
    lines = [
        f"Limit {_every(f'{row.time_limit:g}' for row in listed)} s a run, one thread and a fresh process "
        f"each; {_every(row.processor for row in listed)}; our solver at revision "
        f"{_every(row.revision for row in listed if row.method == OURS)}. "
        "The bound of the two decreasing rules is the better of the material bound and L2, which the "
        "models are given too. Seconds are wall clock, engines loaded beforehand, model building included; "
        "the exact models start from the plan of best-fit decreasing. Costs are bars, in the demo groups "
        "ten-thousandths of the currency; '-': no sound plan at the limit.",
        "",
        "| group | method | cost | bars | bound | proved | seconds | MiB | cost / ours | ended |",
        "|" + " --- |" * 10,
    ]
    for group, members in groupby(listed, key=lambda row: row.group):
        together = list(members)
        own = next((row.cost for row in together if row.method == OURS), None)
        for row in together:
            cells = [
                group,
                row.method,
                row.cost,
                row.bars,
                row.bound,
                "yes" if row.proved else "no",
                f"{row.seconds:.2f}",
                row.peak_mib,
                f"{row.cost / own:.4f}" if own and row.cost is not None else None,
                row.ended,
            ]
            lines.append("| " + " | ".join("-" if cell is None else str(cell) for cell in cells) + " |")
    return "\n".join(lines) + "\n"


def _every(values: Iterable[str]) -> str:
    return ", ".join(dict.fromkeys(values)) or "none"


def run_peers(
    cases: tuple[Case, ...],
    *,
    time_limit: float,
    out: Path,
    peers: Mapping[str, Peer] = PEERS,
    say: Callable[[str], None] = lambda text: None,
) -> tuple[PeerRow, ...]:
    """
    Compare on the given cases and leave ``peers.csv`` and ``peers.md`` in ``out``.

    Rows of other methods and groups that the folder already holds are kept, so that one method can be
    measured anew beside the others.

    Returns
    -------
    tuple of PeerRow
        Every row of the folder, in the order of the table.
    """
    path = out / "peers.csv"
    kept = {(row.group, row.method): row for row in rows_file.read(path, PeerRow)}
    for row in compare(cases, time_limit=time_limit, peers=peers, say=say):
        kept[row.group, row.method] = row
    groups = list(dict.fromkeys([*(group for group, _ in kept), *(case.name for case in cases)]))
    methods = list(dict.fromkeys([*PEERS, *(method for _, method in kept)]))
    rows = tuple(kept[group, method] for group in groups for method in methods if (group, method) in kept)
    rows_file.write(path, rows)
    text = "# Side by side with other general methods\n\n" + markdown(rows)
    (out / "peers.md").write_text(text, "utf-8")
    return rows
