"""Rounds of regrouping over a plan: a few patterns drawn, put together again, and taken if no worse."""

from __future__ import annotations

import numpy as np

from nesting.solver.fewer_patterns_draw import below, draw_patterns
from nesting.solver.fewer_patterns_machine_code import machine_code
from nesting.solver.fewer_patterns_regroup import regroup
from nesting.solver.fewer_patterns_sums import Words
from nesting.solver.fewer_patterns_ways import MOST_BINS
from nesting.solver.kernel import Ints


@machine_code()
def _scrap(waste: int, kind: int, unit: int, scrap_rule: Ints) -> int:
    """Give the scrap of a bar that wastes so many units: its tail unless that is kept."""
    tail = waste * unit + scrap_rule[kind, 0]  # rest of the capacity + tail loss - kerf
    if tail <= 0 or tail >= scrap_rule[kind, 1]:
        return 0
    return tail  # type: ignore[no-any-return]


@machine_code()
def _close_up(patterns: Ints, times: Ints, kinds: Ints, gone: int, last: int) -> None:
    """Put the last pattern in use in the place of one that is no longer cut."""
    times[gone] = times[last]
    kinds[gone] = kinds[last]
    for i in range(patterns.shape[1]):
        patterns[gone, i] = patterns[last, i]


@machine_code(draw_patterns, regroup)
def improve(
    patterns: Ints,
    times: Ints,
    kinds: Ints,
    count: int,
    sizes: Ints,
    rooms: Ints,
    fewest: Ints,
    grain: int,
    most_pieces: int,
    most_lengths: int,
    unit: int,
    scrap_rule: Ints,
    spare_scrap: int,
    accept: Ints,
    attempts: int,
    max_nodes: int,
    state: Ints,
    best: Ints,
    best_times: Ints,
    best_kinds: Ints,
    record: Ints,
    starts: Ints,
    ways: Ints,
    reach: Words,
) -> tuple[int, int]:
    """
    Take patterns apart and put them together again, ``attempts`` times, in place.

    Everything is whole numbers, randomness included, so equal seeds give equal answers anywhere.

    Parameters
    ----------
    patterns, times, kinds
        The plan, shape ``(p, m)``, ``(p,)``, ``(p,)``; the first ``count`` rows are in use.
    sizes
        Shape ``(m,)``.
    rooms, fewest
        Size a bar of each kind holds, and must hold at least; shape ``(kinds,)``.
    scrap_rule
        For each kind, what to add to a bar's waste to get its tail, and the keep length; nanometres.
    spare_scrap
        Scrap that may still be added.
    accept
        Chance in a thousand to take a regrouping that mixes 0, 1, 2 ... more lengths into patterns.
    best, best_times, best_kinds, record
        The best plan met so far; its patterns, its lengths summed over patterns, and the latter now.
    grain, most_pieces, most_lengths, max_nodes, starts, ways, reach
        See ``regroup``.

    Returns
    -------
    tuple
        Patterns in use and scrap that may still be added.
    """
    m = sizes.shape[0]
    drawn = np.empty(MOST_BINS, np.int64)
    item = np.empty(m, np.int64)
    demand = np.empty(m, np.int64)
    size = np.empty(m, np.int64)
    y = np.empty(MOST_BINS, np.int64)
    kind = np.empty(MOST_BINS, np.int64)
    room = np.empty(MOST_BINS, np.int64)
    least = np.empty(MOST_BINS, np.int64)
    out = np.zeros((MOST_BINS, m), np.int64)
    held = np.zeros(m, np.int64)
    for _ in range(attempts):
        if count < 2:
            break
        k = draw_patterns(patterns, kinds, count, state, drawn, held)
        n = 0
        slack = 0
        mixed = 0
        old_scrap = 0
        for q in range(k):
            p = drawn[q]
            slack += times[p] * rooms[kinds[p]]
        for i in range(m):
            total = 0
            for q in range(k):
                if patterns[drawn[q], i]:
                    total += patterns[drawn[q], i] * times[drawn[q]]
                    mixed += 1
            if total:
                item[n] = i
                demand[n] = total
                size[n] = sizes[i]
                slack -= total * sizes[i]
                n += 1
        if n == 0:
            continue
        for q in range(k):
            p = drawn[q]
            waste = rooms[kinds[p]]
            for c in range(n):
                waste -= patterns[p, item[c]] * size[c]
            old_scrap += times[p] * _scrap(waste, kinds[p], unit, scrap_rule)
        fewer = below(state, 2) == 0
        bins = k
        drop = -1
        if fewer:
            # a bin of a kind that has two of them can go
            drop = below(state, k)
            twin = False
            for q in range(k):
                twin |= q != drop and kinds[drawn[q]] == kinds[drawn[drop]]
            if not twin:
                continue
            bins = k - 1
        b = 0
        for q in range(k):
            if q == drop:
                continue
            p = drawn[q]
            y[b] = times[p]
            kind[b] = kinds[p]
            room[b] = rooms[kinds[p]]
            least[b] = fewest[kinds[p]]
            b += 1
        if drop >= 0:
            # its bars go to another bin of the kind
            start = below(state, bins)
            for q in range(bins):
                b = (start + q) % bins
                if kind[b] == kinds[drawn[drop]]:
                    y[b] += times[drawn[drop]]
                    break
        tries = 1 if bins == 1 else 12 if fewer else 1
        base = y.copy()
        for attempt in range(tries):
            if attempt or below(state, 3):
                # move bars between bins of one kind
                for q in range(bins):
                    y[q] = base[q]
                for _shift in range(1 + below(state, 2)):
                    b = below(state, bins)
                    c = below(state, bins)
                    if b != c and kind[b] == kind[c] and y[b] > 1:
                        moved = 1 + below(state, y[b] - 1)
                        y[b] -= moved
                        y[c] += moved
            if not regroup(
                n,
                demand,
                size,
                bins,
                y,
                room,
                least,
                slack,
                grain,
                most_pieces,
                most_lengths,
                below(state, 2) == 0,
                max_nodes,
                state,
                starts,
                ways,
                reach,
                out,
            ):
                continue
            now_mixed = 0
            scrap = 0
            for b in range(bins):
                waste = room[b]
                for c in range(n):
                    now_mixed += out[b, c] > 0
                    waste -= out[b, c] * size[c]
                scrap += y[b] * _scrap(waste, kind[b], unit, scrap_rule)
            if scrap - old_scrap > spare_scrap:
                continue
            if not fewer and now_mixed > mixed:
                more = now_mixed - mixed
                if more >= accept.shape[0] or below(state, 1000) >= accept[more]:
                    break
            spare_scrap -= scrap - old_scrap
            for b in range(bins):
                p = drawn[b]
                times[p] = y[b]
                kinds[p] = kind[b]
                for c in range(n):
                    patterns[p, item[c]] = out[b, c]
            if fewer:
                gone = drawn[k - 1]
                count -= 1
                _close_up(patterns, times, kinds, gone, count)
            # a bin that got nothing is a bar that is not opened at all
            p = 0
            while p < count:
                pieces = 0
                for i in range(m):
                    pieces += patterns[p, i]
                if pieces:
                    p += 1
                    continue
                count -= 1
                _close_up(patterns, times, kinds, p, count)
            record[2] += now_mixed - mixed
            if count < record[0] or (count == record[0] and record[2] < record[1]):
                record[0] = count
                record[1] = record[2]
                for p in range(count):
                    best_times[p] = times[p]
                    best_kinds[p] = kinds[p]
                    for i in range(m):
                        best[p, i] = patterns[p, i]
            break
    return count, spare_scrap
