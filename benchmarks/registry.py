"""
Every class of cases, found by looking: a new module in ``benchmarks/cases`` is all it takes.

A module there offers ``CLASSES``, a tuple of :class:`benchmarks.case.CaseClass`.
"""

from __future__ import annotations

from functools import cache
from importlib import import_module
from pkgutil import iter_modules

from benchmarks import cases
from benchmarks.case import CaseClass


@cache
def case_classes() -> dict[str, CaseClass]:
    """
    Give every registered class by its name.

    Raises
    ------
    ValueError
        When two modules use one name.
    """
    found: dict[str, CaseClass] = {}
    for module in sorted(info.name for info in iter_modules(cases.__path__)):
        offered: tuple[CaseClass, ...] = import_module(f"{cases.__name__}.{module}").CLASSES
        for case_class in offered:
            if case_class.name in found:
                raise ValueError(f"Two case classes are called {case_class.name!r}.")
            found[case_class.name] = case_class
    return found


def named(names: str) -> tuple[CaseClass, ...]:
    """
    Give the classes of a comma-separated list, in its order; ``all`` means every one.

    Raises
    ------
    ValueError
        When a name is not registered.
    """
    known = case_classes()
    if names == "all":
        return tuple(known.values())
    unknown = [name for name in names.split(",") if name not in known]
    if unknown:
        raise ValueError(f"No such class: {', '.join(unknown)}. Known: {', '.join(known)}.")
    return tuple(known[name] for name in names.split(","))
