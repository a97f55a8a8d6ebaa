"""The closing step: what rounding left open is settled by branching or by integer programmes."""

from __future__ import annotations

from collections.abc import Callable

from nesting.solver.aim import Aim
from nesting.solver.arcs import Arcs, all_arcs, cells, thin_out
from nesting.solver.branch import Branching
from nesting.solver.certify import Proof, certify, mean
from nesting.solver.close import close_by_arcs, close_by_patterns
from nesting.solver.engine import Engine
from nesting.solver.enumerate_patterns import enumerate_patterns
from nesting.solver.listing import list_by_arcs
from nesting.solver.master import Master
from nesting.solver.mip import Outcome
from nesting.solver.params import CloseParams
from nesting.solver.pricing import Pricer
from nesting.solver.search import Search


class Closing:
    """
    Settles one aim.

    Parameters
    ----------
    master
        Its linear programme, with the columns met so far.
    prove
        Told every proof that the linear programme yields.

    Attributes
    ----------
    counters
        Sizes of what was searched: ``arcs``, ``listed`` patterns, ``nodes`` of branching.
    closed_by
        The search that the bound rests on; empty while the duals alone prove it.
    """

    def __init__(
        self,
        search: Search,
        aim: Aim,
        master: Master,
        engine: Engine,
        pricer: Pricer,
        params: CloseParams,
        prove: Callable[[Aim, Proof], None],
    ) -> None:
        self._search = search
        self._reduced = search.reduced
        self._aim = aim
        self._master = master
        self._engine = engine
        self._pricer = pricer
        self._params = params
        self._prove = prove
        self.counters: dict[str, int] = {}
        self.closed_by = ""
        self._searched = ""

    def run(self) -> None:
        """Settle what a search of moderate size can."""
        self._settle(max_arcs=self._params.max_arcs)

    def run_late(self) -> None:
        """Search longer, where the first run found a little too many arcs."""
        if self._params.max_arcs < self.counters.get("arcs", 0) <= self._params.late_arcs:
            self._settle(max_arcs=self._params.late_arcs)

    def _settle(self, *, max_arcs: int) -> None:
        """Try the smallest search first: few patterns, then arcs."""
        search, reduced, params = self._search, self._reduced, self._params
        search.enter("close")
        while not self._master.reached:
            target = (search.worth.short if self._aim.counts_short else search.worth.cost) - 1
            proof = self._full_proof(0)
            if self._master.reached:
                return
            patterns = enumerate_patterns(
                reduced, self._aim, proof, target, self._engine,
                max_patterns=params.max_patterns, max_nodes=20 * params.max_patterns,
            )  # fmt: skip
            search.poll()
            if patterns is not None:
                self._searched = f"integer programme over {len(patterns)} patterns (HiGHS)"
                outcome = close_by_patterns(search, self._aim, patterns, target, max_nodes=params.max_nodes)
            elif self._aim.leaving is None and cells(reduced) <= params.max_cells:
                outcome = self._search_arcs(*self._few_arcs(proof, target), target, max_arcs)
            else:
                outcome = Outcome.OPEN
                self.combine()
            search.poll()
            if outcome is Outcome.FOUND:
                continue
            if outcome is Outcome.OPEN:
                return
            if outcome is Outcome.OPTIMAL:
                target = (search.worth.short if self._aim.counts_short else search.worth.cost) - 1
            if self._aim.counts_short:
                search.short_bound = target + 1
            else:
                self.closed_by = self._searched
                search.prove(target + 1)

    def _search_arcs(self, arcs: Arcs, proof: Proof, target: int, max_arcs: int) -> Outcome:
        """Settle one target over the arcs: branching, a few nodes of their programme, more of both."""
        params = self._params
        self.counters["arcs"] = len(arcs)
        branching = self._branching(arcs, proof, target)
        outcome = self._branch(branching, params.first_nodes)
        if outcome is Outcome.OPEN and len(arcs) <= params.root_arcs:
            # As the arcs stand and made smaller first, each shows at once what takes the other a minute.
            outcome = self._programme(arcs, target, params.root_nodes, presolve=False)
        if outcome is Outcome.OPEN:
            outcome = self._branch(branching, params.branch_nodes)
        if outcome is Outcome.OPEN and len(arcs) <= max_arcs:
            outcome = self._programme(arcs, target, params.max_nodes, presolve=True)
        elif outcome is Outcome.OPEN:
            self.combine()
        return outcome

    def _programme(self, arcs: Arcs, target: int, max_nodes: int, *, presolve: bool) -> Outcome:
        """Search the integer programme over the arcs; a plan that it leaves open to improve is found, too."""
        self._searched = f"integer programme over {len(arcs)} arcs (HiGHS)"
        outcome = close_by_arcs(self._search, arcs, target, max_nodes=max_nodes, presolve=presolve)
        self._search.poll()
        return Outcome.FOUND if outcome is Outcome.OPEN and self._search.worth.cost <= target else outcome

    def _branching(self, arcs: Arcs, proof: Proof, target: int) -> Branching | None:
        """List the patterns the arcs spell; None unless bars are of one unlimited kind and these are few."""
        params = self._params
        if self._aim.costs != (1,) or self._reduced.kinds[0].supply is not None:
            return None
        listing = list_by_arcs(
            self._reduced, arcs, proof, target, self._engine,
            max_patterns=params.max_listed, max_nodes=2 * params.max_listed,
        )  # fmt: skip
        self._search.poll()
        if listing is None:
            return None
        self.counters["listed"] = len(listing)
        return Branching(self._search, listing, target, self._engine)

    def _branch(self, branching: Branching | None, max_nodes: int) -> Outcome:
        """Branch until so many nodes are visited for all targets together."""
        if branching is None:
            return Outcome.OPEN
        before = self.counters.get("nodes", 0) - branching.nodes
        outcome = branching.run(max_nodes - before)
        self.counters["nodes"] = before + branching.nodes
        self._searched = (
            f"branch and bound over {self.counters['listed']} patterns in {branching.nodes} nodes"
        )
        return outcome

    def combine(self) -> None:
        """Put the patterns at hand together as well as an integer programme can."""
        search = self._search
        if not self._params.pool_nodes:
            return
        best = search.worth.short if self._aim.counts_short else search.worth.cost
        self._master.start(self._reduced.demands, [kind.supply for kind in self._reduced.kinds])
        self._master.solve()
        patterns = self._master.good_patterns(best - self._master.value)[: self._params.max_patterns]
        if not patterns:
            return
        close_by_patterns(search, self._aim, patterns, best - 1, max_nodes=self._params.pool_nodes)
        search.poll()

    def _full_proof(self, number: int) -> Proof:
        """Solve the linear programme to its end and prove its bound; other duals for each ``number``."""
        self._master.restart(number, [kind.supply for kind in self._reduced.kinds])
        self._master.solve(full=True)
        proof = certify(self._reduced, self._aim, self._master.duals, self._pricer)
        self._prove(self._aim, proof)
        return proof

    def _few_arcs(self, proof: Proof, target: int) -> tuple[Arcs, Proof]:
        """
        Thin out the arcs by one set of duals after the other; give them and all proofs in one.

        One more set costs little beside the closing search and may leave a thirtieth of the arcs.
        """
        arcs = all_arcs(self._reduced)
        proofs = [proof]
        for number in range(1, self._params.proofs + 1):
            arcs = thin_out(self._reduced, self._aim, arcs, proofs[-1], target, self._engine)
            self._search.poll()
            if len(arcs) <= self._params.few_arcs:
                break
            proofs.append(self._full_proof(number))
        return arcs, mean(proofs)
