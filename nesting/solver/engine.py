"""The kernel, interpreted for tiny groups or compiled for all others."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from typing import Any

from nesting.solver import kernel, kernel_arcs, kernel_listing, kernel_simplex, kernel_through

PATIENCE = 100_000
"""Interpreted steps after which loading the compiler pays (about 1 s, or 0.4 s once cached)."""


@dataclass(frozen=True, slots=True)
class Functions:
    """The kernel's functions in one of their two forms; both give the same numbers."""

    price_tree: Callable[..., Any]
    price_table: Callable[..., Any]
    list_patterns: Callable[..., Any]
    thin_out: Callable[..., Any]
    primal_simplex: Callable[..., Any]
    dual_simplex: Callable[..., Any]
    list_paths: Callable[..., Any]
    price_listing: Callable[..., Any]
    dearest_listed: Callable[..., Any]
    kill_pair: Callable[..., Any]
    kill_beyond: Callable[..., Any]
    patterns_through: Callable[..., Any]


INTERPRETED = Functions(
    kernel.price_tree,
    kernel.price_table,
    kernel.list_patterns,
    kernel_arcs.thin_out,
    kernel_simplex.primal_simplex,
    kernel_simplex.dual_simplex,
    kernel_listing.list_paths,
    kernel_listing.price_listing,
    kernel_listing.dearest_listed,
    kernel_listing.kill_pair,
    kernel_listing.kill_beyond,
    kernel_through.patterns_through,
)


@cache
def compiled() -> Functions:
    """Give the kernel in machine code; the first call of a process loads the compiler."""
    import numba

    def translate(function: Callable[..., Any]) -> Callable[..., Any]:
        try:
            return numba.njit(cache=True, nogil=True)(function)  # type: ignore[no-any-return]
        except RuntimeError:  # nowhere to keep the machine code: an installation nobody may write to
            return numba.njit(nogil=True)(function)  # type: ignore[no-any-return]

    return Functions(
        translate(kernel.price_tree),
        translate(kernel.price_table),
        translate(kernel.list_patterns),
        translate(kernel_arcs.thin_out),
        translate(kernel_simplex.primal_simplex),
        translate(kernel_simplex.dual_simplex),
        translate(kernel_listing.list_paths),
        translate(kernel_listing.price_listing),
        translate(kernel_listing.dearest_listed),
        translate(kernel_listing.kill_pair),
        translate(kernel_listing.kill_beyond),
        translate(kernel_through.patterns_through),
    )


class Engine:
    """
    Runs the kernel, and changes to machine code once a tiny group turns out to be hard.

    Parameters
    ----------
    tiny
        Whether to begin interpreted, unless this process has the machine code already. The change
        depends on the work done, never on the clock.
    """

    def __init__(self, *, tiny: bool) -> None:
        loaded = compiled.cache_info().currsize > 0
        self._functions = INTERPRETED if tiny and not loaded else compiled()
        self._patience = PATIENCE

    def price_tree(self, *arguments: Any, nodes: int, best: kernel.Ints) -> tuple[float, float, int]:
        """Run ``kernel.price_tree``."""
        if self._functions is INTERPRETED:
            answer = self._functions.price_tree(*arguments, min(nodes, self._patience // 8 + 1), best)
            self._work(8 * answer[2])
            if self._functions is INTERPRETED or answer[2] >= nodes:
                return answer  # type: ignore[no-any-return]
            best[:] = 0
        return self._functions.price_tree(*arguments, nodes, best)  # type: ignore[no-any-return]

    def price_table(self, *arguments: Any, cells: int) -> None:
        """Run ``kernel.price_table``."""
        self._work(cells)
        self._functions.price_table(*arguments)

    def list_patterns(self, *arguments: Any, nodes: int, found: kernel.Ints) -> int:
        """Run ``kernel.list_patterns``."""
        if self._functions is INTERPRETED:
            few = min(nodes, self._patience // 8 + 1)
            number = self._functions.list_patterns(*arguments, few, found)
            if number >= 0:
                return number  # type: ignore[no-any-return]
            self._work(8 * few)
        return self._functions.list_patterns(*arguments, nodes, found)  # type: ignore[no-any-return]

    def thin_out(self, *arguments: Any, cells: int) -> None:
        """Run ``kernel_arcs.thin_out``."""
        self._work(cells)
        self._functions.thin_out(*arguments)

    def primal_simplex(self, *arguments: Any) -> int:
        """Run ``kernel_simplex.primal_simplex``."""
        return self._functions.primal_simplex(*arguments)  # type: ignore[no-any-return]

    def dual_simplex(self, *arguments: Any) -> int:
        """Run ``kernel_simplex.dual_simplex``."""
        return self._functions.dual_simplex(*arguments)  # type: ignore[no-any-return]

    def list_paths(
        self,
        *arguments: Any,
        nodes: int,
        starts: kernel.Ints,
        rows: kernel_listing.Rows,
        entries: kernel_listing.Rows,
    ) -> int:
        """Run ``kernel_listing.list_paths``."""
        self._work(PATIENCE)  # long lists only
        return self._functions.list_paths(*arguments, nodes, starts, rows, entries)  # type: ignore[no-any-return]

    def price_listing(self, *arguments: Any, cells: int) -> float:
        """Run ``kernel_listing.price_listing``."""
        self._work(cells)
        return self._functions.price_listing(*arguments)  # type: ignore[no-any-return]

    def dearest_listed(self, *arguments: Any, cells: int) -> int:
        """Run ``kernel_listing.dearest_listed``."""
        self._work(cells)
        return self._functions.dearest_listed(*arguments)  # type: ignore[no-any-return]

    def kill_pair(self, *arguments: Any, cells: int) -> None:
        """Run ``kernel_listing.kill_pair``."""
        self._work(cells)
        self._functions.kill_pair(*arguments)

    def kill_beyond(self, *arguments: Any, cells: int) -> None:
        """Run ``kernel_listing.kill_beyond``."""
        self._work(cells)
        self._functions.kill_beyond(*arguments)

    def patterns_through(self, *arguments: Any) -> int:
        """Run ``kernel_through.patterns_through``."""
        return self._functions.patterns_through(*arguments)  # type: ignore[no-any-return]

    def _work(self, steps: int) -> None:
        self._patience -= steps
        if self._patience <= 0:
            self._functions = compiled()
