"""Puts the parts of the solver together by hand, for tests of one part."""

from __future__ import annotations

from dataclasses import dataclass

from nesting.domain.problem import Problem
from nesting.solver.aim import Aim
from nesting.solver.construct import construct
from nesting.solver.engine import Engine
from nesting.solver.master import Master
from nesting.solver.observe import SILENT
from nesting.solver.params import ColumnParams
from nesting.solver.pricing import Pricer
from nesting.solver.reduce import Reduced, reduce_problem
from nesting.solver.search import Search
from nesting.stop import NEVER, Stop


@dataclass(frozen=True)
class Bench:
    """The parts of one group's search."""

    reduced: Reduced
    search: Search
    engine: Engine
    pricer: Pricer
    aim: Aim
    master: Master

    @property
    def supplies(self) -> list[int | None]:
        """Bars of each kind before the first is cut."""
        return [kind.supply for kind in self.reduced.kinds]


def bench(asked: Problem, *, stop: Stop = NEVER, tiny: bool = True) -> Bench:
    """Give the parts, with a greedy plan on offer and the linear programme not yet solved."""
    reduced = reduce_problem(asked)
    search = Search(asked.name, reduced, stop=stop, observer=SILENT)
    search.offer(construct(reduced, reduced.demands, [kind.supply for kind in reduced.kinds]))
    engine = Engine(tiny=tiny)
    params = ColumnParams()
    pricer = Pricer(reduced.sizes, engine, params)
    aim = Aim.least_cost(reduced, search.worth.short)
    master = Master(search, aim, engine, pricer, params, 0)
    master.start(reduced.demands, [kind.supply for kind in reduced.kinds])
    return Bench(reduced, search, engine, pricer, aim, master)
