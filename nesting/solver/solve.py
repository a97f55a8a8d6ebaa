"""The recipe from top to bottom: one group in, patterns with a proven bound out."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from nesting.bounds import Choice, cheapest_choice, cheapest_filling, volume_bound
from nesting.domain.packing import cost_of
from nesting.domain.problem import Problem
from nesting.domain.progress import Certificate, Result, SolverReport, StopReason
from nesting.solver.aim import Aim, Duals
from nesting.solver.answer import to_packing
from nesting.solver.certify import Proof, certify
from nesting.solver.closing import Closing
from nesting.solver.columns import Pattern
from nesting.solver.construct import construct
from nesting.solver.engine import Engine
from nesting.solver.fill import fill_bar_by_bar
from nesting.solver.master import Master
from nesting.solver.observe import SILENT, Observer
from nesting.solver.params import CloseParams, RoundParams, ScrapParams, SolverParams
from nesting.solver.pricing import Pricer
from nesting.solver.reduce import Reduced, reduce_problem
from nesting.solver.rounding import Dives
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
        # Nobody waits for the compiler to load once the search has been told to stop.
        self._engine = Engine(tiny=self._tiny or search.stopping())
        self._pricer = Pricer(self._reduced.sizes, self._engine, params.columns)
        self._masters: list[Master] = []
        self._closings: list[Closing] = []
        self.proof: Proof | None = None
        self._choice: Choice | None = None

    def run(self) -> None:
        """Take the steps after the first plan, until one is proved least."""
        search, reduced = self._search, self._reduced
        if not reduced.kinds:
            search.short_bound = search.worth.short
            return
        search.enter("start")
        self._bound_by_size()
        self._bound_by_room()
        if not self._tiny and not search.proved and not search.worth.short:
            fill_bar_by_bar(search, self._pricer, plans=self._params.first_plans, seed=self._seed)
        if search.worth.short:
            self.pursue(Aim.least_short(reduced))
        if not search.proved:
            self.pursue(Aim.least_cost(reduced, search.worth.short))

    def _bound_by_size(self) -> None:
        """Prove what the sum of sizes proves, which often is all that is needed."""
        reduced = self._reduced
        if self._search.worth.short:
            return
        filling = cheapest_filling(((k.capacity, k.cost, k.supply) for k in reduced.kinds), reduced.size)
        aim = Aim.least_cost(reduced, 0)
        prices = np.array([float(filling.price * s) for s in reduced.sizes])
        self._prove(aim, certify(reduced, aim, Duals.of_pieces(reduced, prices), self._pricer))

    def _bound_by_room(self) -> None:
        """Prove what whole bars with room for everything cost; bars of one cost gain nothing by it."""
        reduced = self._reduced
        if self._search.worth.short or len({kind.cost for kind in reduced.kinds}) < 2:
            return
        self._choice = cheapest_choice([(k.capacity, k.cost, k.supply) for k in reduced.kinds], reduced.size)
        if self._choice is not None:
            self._search.prove(self._choice.cost)

    def _fill_choice(self, choice: Choice) -> None:
        """Try to cut everything from the cheapest bars that have room for it: no plan can cost less."""
        chosen = [k for k, times in enumerate(choice.times) if times]
        kinds = tuple(replace(self._reduced.kinds[k], supply=choice.times[k]) for k in chosen)
        reduced = replace(self._reduced, kinds=kinds)
        inside = Search("", reduced, stop=self._search.within_stop(), observer=SILENT)
        inside.offer(construct(reduced, reduced.demands, [kind.supply for kind in kinds]))
        if inside.worth.short:
            quick = replace(self._params, rounding=replace(self._params.rounding, late_solves=0))
            Recipe(inside, self._seed, quick).pursue(Aim.least_short(reduced))
        if not inside.worth.short:
            self._search.offer(tuple((Pattern(chosen[p.kind], p.pieces), n) for p, n in inside.plan))

    def pursue(self, aim: Aim) -> None:
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
        rounding = self._params.rounding
        dives = Dives(search, master, self._seed, rounding)
        dives.run(rounding.solves)
        if self._choice is not None and not master.reached and self._choice.cost == search.bound:
            self._fill_choice(self._choice)
        closing = Closing(search, aim, master, self._engine, self._pricer, params.closing, self._prove)
        self._closings.append(closing)
        # Bars of one cost leave nothing between the bound and the next bar: there the pool seldom helps.
        if len(set(aim.costs)) > 1 and not master.reached:
            search.enter("close")
            closing.combine()
        if not master.reached:
            closing.run()
        # Where bars differ in cost dives seldom close what is a small sum: a long programme goes first.
        if len(set(aim.costs)) > 1:
            dives.run(rounding.late_solves // 20)
            if not master.reached:
                closing.run_late()
        dives.run(rounding.late_solves)
        # What dives may settle sooner is left to them; only what is still open is worth a long programme.
        if not master.reached:
            closing.run_late()

    def _prove(self, aim: Aim, proof: Proof) -> None:
        if aim.counts_short:
            self._search.short_bound = max(self._search.short_bound, proof.bound)
        elif self.proof is None or proof.total * self.proof.scale > self.proof.total * proof.scale:
            self.proof = proof
            self._search.prove(proof.bound)

    def report(self) -> SolverReport:
        """Give what it took."""
        return SolverReport(
            seconds=self._search.elapsed,
            rounds=self._search.rounds,
            columns=sum(len(master.pool) for master in self._masters),
            counters=tuple(sorted(item for closing in self._closings for item in closing.counters.items())),
        )

    def certificate(self, problem: Problem) -> Certificate | None:
        """Give the proof of the bound in the units of ``problem``."""
        if self.proof is None:
            return None
        proof, reduced = self.proof, self._reduced
        checkable = max(proof.bound, self._choice.cost if self._choice else 0)
        closed_by = next((closing.closed_by for closing in self._closings if closing.closed_by), "")
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
            closed_by=closed_by if self._search.bound > checkable else "",
            room_bound=self._choice.cost * reduced.cost_unit if self._choice else 0,
            dual_bound=proof.bound * reduced.cost_unit,
        )
