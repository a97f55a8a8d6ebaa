"""The recipe from top to bottom: one group in, patterns with a proven bound out."""

from __future__ import annotations

from dataclasses import replace
from random import Random

import numpy as np

from nesting.bounds import cheapest_filling, volume_bound
from nesting.domain.packing import cost_of
from nesting.domain.problem import Problem
from nesting.domain.progress import Certificate, Result, SolverReport, StopReason
from nesting.solver.aim import Aim, Duals
from nesting.solver.answer import to_packing
from nesting.solver.arcs import Arcs, all_arcs, cells, thin_out
from nesting.solver.branch import Branching
from nesting.solver.certify import Proof, certify, mean
from nesting.solver.close import close_by_arcs, close_by_patterns
from nesting.solver.construct import construct
from nesting.solver.engine import Engine
from nesting.solver.enumerate_patterns import enumerate_patterns
from nesting.solver.fill import fill_bar_by_bar
from nesting.solver.listing import list_by_arcs
from nesting.solver.master import Master, Share
from nesting.solver.mip import Outcome
from nesting.solver.observe import SILENT, Observer
from nesting.solver.params import CloseParams, RoundParams, ScrapParams, SolverParams
from nesting.solver.pricing import Pricer
from nesting.solver.reduce import Reduced, reduce_problem
from nesting.solver.rounding import dive
from nesting.solver.scrap import less_scrap
from nesting.solver.search import Search, Stopped
from nesting.stop import NEVER, Stop


def solve(
    problem: Problem,
    *,
    seed: int = 0,
    stop: Stop = NEVER,
    observer: Observer = SILENT,
    params: SolverParams = SolverParams(),  # noqa: B008 - frozen
) -> Result:
    """
    Find the cheapest patterns for one group and prove how good they are.

    Parameters
    ----------
    seed
        Repeats the same plan for the same problem, as long as ``stop`` does not cut the search short.
    stop
        Asked many times a second.
    observer
        Told about every better plan and bound.

    Returns
    -------
    Result
        A plan always, with its cost, a bound and the bound's certificate.
    """
    reduced = reduce_problem(problem)
    search = Search(problem.name, reduced, stop=stop, observer=observer)
    # First of all an answer: the engine behind the recipe may take most of a second to load.
    search.offer(construct(reduced, reduced.demands, [kind.supply for kind in reduced.kinds]))
    recipe = Recipe(search, seed, params)
    ended = StopReason.EXHAUSTED
    finished = False
    try:
        recipe.run()
        search.enter("scrap")
        finished = True
    except Stopped as stopped:
        ended = stopped.why
        if recipe.proof is None and not search.worth.short:
            # Stopped before any proof: the bound by size costs nothing and needs no engine.
            search.prove(volume_bound(problem) // reduced.cost_unit)
    packing = to_packing(problem, reduced, search.plan)
    if finished and params.scrap.tries:
        quick = replace(
            params,
            rounding=RoundParams(solves=params.scrap.solves, late_solves=0),
            closing=CloseParams(max_patterns=0, max_cells=0),
            scrap=ScrapParams(tries=0),
        )
        packing = less_scrap(
            problem,
            packing,
            lambda fuller, until: solve(fuller, seed=seed, stop=until, params=quick),
            stop=search.within_stop(),
            tries=params.scrap.tries,
        )
    if search.proved:
        ended = StopReason.PROVED
    return Result(
        best=packing,
        cost=cost_of(problem, packing),
        bound=search.bound * reduced.cost_unit,
        short=search.worth.short * reduced.weight_unit,
        short_bound=search.short_bound * reduced.weight_unit,
        ended=ended,
        report=recipe.report(),
        certificate=recipe.certificate(problem),
    )


class Recipe:
    """
    The steps of one search, in their order.

    Parameters
    ----------
    search
        State that the steps share.
    seed
        Of every draw.
    params
        Settings.
    """

    def __init__(self, search: Search, seed: int, params: SolverParams) -> None:
        self._search = search
        self._reduced: Reduced = search.reduced
        self._seed = seed
        self._params = params
        self._tiny = len(self._reduced.sizes) <= params.tiny_lengths
        self._engine = Engine(tiny=self._tiny)
        self._pricer = Pricer(self._reduced.sizes, self._engine, params.columns)
        self._masters: list[Master] = []
        self.proof: Proof | None = None
        self._value: float | None = None
        self._closed_by = ""
        self._dives = 0
        self._counters: dict[str, int] = {}

    def run(self) -> None:
        """Take the steps after the first plan, until one is proved least."""
        search, reduced = self._search, self._reduced
        if not reduced.kinds:
            search.short_bound = search.worth.short
            return
        search.enter("start")
        self._bound_by_size()
        if not self._tiny and not search.proved and not search.worth.short:
            fill_bar_by_bar(search, self._pricer, plans=self._params.first_plans, seed=self._seed)
        if search.worth.short:
            self._pursue(Aim.least_short(reduced))
        if not search.proved:
            self._pursue(Aim.least_cost(reduced, search.worth.short))

    def _bound_by_size(self) -> None:
        """Prove what the sum of sizes proves, which often is all that is needed."""
        reduced = self._reduced
        if self._search.worth.short:
            return
        size = sum(s * n for s, n in zip(reduced.sizes, reduced.demands, strict=True))
        filling = cheapest_filling(((k.capacity, k.cost, k.supply) for k in reduced.kinds), size)
        aim = Aim.least_cost(reduced, 0)
        prices = np.array([float(filling.price * s) for s in reduced.sizes])
        self._prove(aim, certify(reduced, aim, Duals.of_pieces(reduced, prices), self._pricer))

    def _pursue(self, aim: Aim) -> None:
        """Solve one linear programme, prove its bound, round it."""
        search, reduced, params = self._search, self._reduced, self._params
        master = Master(search, aim, self._engine, self._pricer, params.columns, self._seed)
        self._masters.append(master)
        for pattern, _ in search.plan:
            master.add(pattern)
        search.enter("columns")
        master.start(reduced.demands, [kind.supply for kind in reduced.kinds])
        try:
            master.solve()
        finally:
            self._prove(aim, certify(reduced, aim, master.duals, self._pricer))
            self._value = master.value
        shares = master.shares()
        rounding = self._params.rounding
        self._dive(aim, master, shares, rounding.solves)
        # Bars of one cost leave nothing between the bound and the next bar: there the pool seldom helps.
        if len(set(aim.costs)) > 1 and not self._reached(aim):
            search.enter("close")
            self._combine(aim, master)
        closing = self._params.closing
        if not self._reached(aim):
            self._close(aim, master, max_arcs=closing.max_arcs)
        self._dive(aim, master, shares, rounding.late_solves)
        # What dives may settle sooner is left to them; only what is still open is worth a long programme.
        if not self._reached(aim) and closing.max_arcs < self._counters.get("arcs", 0) <= closing.late_arcs:
            self._close(aim, master, max_arcs=closing.late_arcs)

    def _dive(self, aim: Aim, master: Master, shares: list[Share], solves: int) -> None:
        """Dive again and again; the first time along the largest fractions, then at random."""
        self._search.enter("round")
        left = solves
        while left > 0 and not self._reached(aim):
            draw = Random(f"{self._seed}/{self._dives}") if self._dives else None
            self._dives += 1
            used = dive(
                self._search, master, shares, draw,
                max_failures=self._params.rounding.failures, max_solves=left,
            )  # fmt: skip
            left -= max(used, 1)

    def _close(self, aim: Aim, master: Master, *, max_arcs: int) -> None:
        """Settle by integer programmes what rounding left open."""
        search, reduced, params = self._search, self._reduced, self._params.closing
        search.enter("close")
        while not self._reached(aim):
            target = (search.worth.short if aim.counts_short else search.worth.cost) - 1
            proof = self._full_proof(aim, master, 0)
            if self._reached(aim):
                return
            patterns = enumerate_patterns(
                reduced, aim, proof, target, self._engine,
                max_patterns=params.max_patterns, max_nodes=20 * params.max_patterns,
            )  # fmt: skip
            search.poll()
            if patterns is not None:
                what = f"{len(patterns)} patterns"
                outcome = close_by_patterns(search, aim, patterns, target, max_nodes=params.max_nodes)
            elif aim.leaving is None and cells(reduced) <= params.max_cells:
                arcs, proof = self._few_arcs(aim, master, proof, target)
                self._counters["arcs"] = len(arcs)
                outcome = self._branch(aim, arcs, proof, target)
                if outcome is Outcome.FOUND:
                    continue
                if outcome is Outcome.IMPOSSIBLE:
                    search.prove(target + 1)
                    return
                if len(arcs) > max_arcs:
                    self._combine(aim, master)
                    return
                what = f"{len(arcs)} arcs"
                outcome = close_by_arcs(search, arcs, target, max_nodes=params.max_nodes)
            else:
                self._combine(aim, master)
                return
            search.poll()
            if outcome is Outcome.OPEN:
                return
            if outcome is Outcome.OPTIMAL:
                target = (search.worth.short if aim.counts_short else search.worth.cost) - 1
            if aim.counts_short:
                search.short_bound = target + 1
            else:
                self._closed_by = f"integer programme over {what} (HiGHS)"
                search.prove(target + 1)

    def _branch(self, aim: Aim, arcs: Arcs, proof: Proof, target: int) -> Outcome:
        """Branch over the patterns that the arcs spell, for one unlimited kind of bar."""
        params = self._params.closing
        nodes = self._counters.get("nodes", 0)
        if aim.costs != (1,) or self._reduced.kinds[0].supply is not None or nodes >= params.branch_nodes:
            return Outcome.OPEN
        listing = list_by_arcs(
            self._reduced, arcs, proof, target, self._engine,
            max_patterns=params.max_listed, max_nodes=20 * params.max_listed,
        )  # fmt: skip
        self._search.poll()
        if listing is None:
            return Outcome.OPEN
        self._counters["listed"] = len(listing)
        branching = Branching(self._search, listing, target, self._engine)
        outcome = branching.run(params.branch_nodes - nodes)
        self._counters["nodes"] = nodes + branching.nodes
        if outcome is Outcome.IMPOSSIBLE:
            self._closed_by = f"branch and bound over {len(listing)} patterns in {branching.nodes} nodes"
        return outcome

    def _combine(self, aim: Aim, master: Master) -> None:
        """Put the patterns at hand together as well as an integer programme can."""
        search = self._search
        best = search.worth.short if aim.counts_short else search.worth.cost
        master.start(self._reduced.demands, [kind.supply for kind in self._reduced.kinds])
        master.solve()
        patterns = master.good_patterns(best - master.value)[: self._params.closing.max_patterns]
        if not patterns:
            return
        close_by_patterns(search, aim, patterns, best - 1, max_nodes=self._params.closing.pool_nodes)
        search.poll()

    def _full_proof(self, aim: Aim, master: Master, number: int) -> Proof:
        """Solve the linear programme to its end and prove its bound; other duals for each ``number``."""
        master.restart(number, [kind.supply for kind in self._reduced.kinds])
        master.solve(full=True)
        proof = certify(self._reduced, aim, master.duals, self._pricer)
        self._prove(aim, proof)
        return proof

    def _few_arcs(self, aim: Aim, master: Master, proof: Proof, target: int) -> tuple[Arcs, Proof]:
        """
        Thin out the arcs by one set of duals after the other; give them and all proofs in one.

        One more set costs little beside the closing search and may leave a thirtieth of the arcs.
        """
        arcs = all_arcs(self._reduced)
        proofs = [proof]
        for number in range(1, self._params.closing.proofs + 1):
            arcs = thin_out(self._reduced, aim, arcs, proofs[-1], target, self._engine)
            self._search.poll()
            if len(arcs) <= self._params.closing.few_arcs:
                break
            proofs.append(self._full_proof(aim, master, number))
        return arcs, mean(proofs)

    def _prove(self, aim: Aim, proof: Proof) -> None:
        if aim.counts_short:
            self._search.short_bound = max(self._search.short_bound, proof.bound)
        elif self.proof is None or proof.total * self.proof.scale > self.proof.total * proof.scale:
            self.proof = proof
            self._search.prove(proof.bound)

    def _reached(self, aim: Aim) -> bool:
        search = self._search
        return search.worth.short <= search.short_bound if aim.counts_short else search.proved

    def report(self) -> SolverReport:
        """Give what it took."""
        return SolverReport(
            seconds=self._search.elapsed,
            rounds=self._search.rounds,
            columns=sum(len(master.pool) for master in self._masters),
            counters=tuple(sorted(self._counters.items())),
            lp_value=None if self._value is None else self._value * self._reduced.cost_unit,
        )

    def certificate(self, problem: Problem) -> Certificate | None:
        """Give the proof of the bound in the units of ``problem``."""
        if self.proof is None:
            return None
        proof, reduced = self.proof, self._reduced
        # The price of a unit left out becomes one of a nanometre, so all others grow with the unit.
        finer = reduced.weight_unit if proof.budget else 1
        unit = reduced.cost_unit * finer
        supply_duals = [0] * len(problem.bars)
        for kind, dual in zip(reduced.kinds, proof.supplies, strict=True):
            for source in kind.sources:
                supply_duals[source] = dual * unit
        return Certificate(
            bound=self._search.bound * reduced.cost_unit,
            duals=tuple(dual * unit for dual in proof.pieces),
            scale=proof.scale * finer,
            supply_duals=tuple(supply_duals),
            short_dual=proof.budget * reduced.cost_unit,
            closed_by=self._closed_by,
            dual_bound=proof.bound * reduced.cost_unit,
        )
