"""The pool of columns."""

from __future__ import annotations

from nesting.solver.columns import Pattern, Pool


def test_a_pattern_is_kept_once() -> None:
    """Twins would let the simplex method pivot for nothing."""
    pool = Pool()
    first = pool.add(Pattern(0, ((1, 2),)), ((1, 2),), 1.0)
    again = pool.add(Pattern(0, ((1, 2),)), ((1, 2),), 1.0)
    other = pool.add(Pattern(1, ((1, 2),)), ((1, 2), (4, 1)), 1.0)
    assert (first, again, other, len(pool)) == (0, 0, 1, 2)


def test_it_grows_without_losing_a_column() -> None:
    """More columns and entries than the first arrays hold."""
    pool = Pool()
    for n in range(5000):
        pool.add(Pattern(0, ((n, 1), (n + 1, 2), (n + 2, 3))), ((n, 1), (n + 1, 2), (n + 2, 3)), float(n))
    for n in (0, 1023, 1024, 2048, 4999):
        part = slice(int(pool.starts[n]), int(pool.starts[n + 1]))
        assert pool.rows[part].tolist() == [n, n + 1, n + 2]
        assert pool.entries[part].tolist() == [1.0, 2.0, 3.0]
        assert pool.costs[n] == n
