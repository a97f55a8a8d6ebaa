"""What is measured: one problem with what is known about it, and classes of such problems."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from nesting.domain.problem import Problem


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """
    One problem and the best value anybody is known to have reached.

    Parameters
    ----------
    series
        Finer set inside the class that results are tabled by; empty when the class is one set.
    best_known
        Cost of the best known plan; None when unknown.
    optimal
        Whether ``best_known`` is proved least; None when nobody has shown it either way.
    """

    name: str
    series: str = ""
    problem: Problem
    best_known: int | None = None
    optimal: bool | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class CaseClass:
    """
    A class of cases that results are reported by.

    Parameters
    ----------
    name
        What ``--classes`` calls it.
    source
        Paper the class comes from, or how it is made.
    licence
        Terms of the data. Only results are ever committed, never the data.
    load
        Gives every case of the class; the argument is the folder that holds published instances, which
        generated classes do not look at.
    tiny
        Gives one very small case through the same reader or generator, without any folder.
    """

    name: str
    source: str
    licence: str
    load: Callable[[Path], tuple[Case, ...]]
    tiny: Callable[[], Case]


def evenly(cases: tuple[Case, ...], sample: int | None) -> tuple[Case, ...]:
    """
    Give ``sample`` cases evenly spread over the class, always the same ones; all of them for None.

    Raises
    ------
    ValueError
        When fewer than one case is asked for.
    """
    if sample is None or sample >= len(cases):
        return cases
    if sample < 1:
        raise ValueError(f"A sample needs at least one case, not {sample}.")
    return tuple(cases[i * len(cases) // sample] for i in range(sample))
