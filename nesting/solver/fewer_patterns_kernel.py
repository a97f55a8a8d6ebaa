"""
Regrouping: a few patterns taken apart and put together again as fewer, in machine code.

A round takes K patterns with the pieces they give, D_i of length i, and chooses new numbers of bars
y_1..y_T (T = K - 1, or T = K to move on) with the same bars of every kind in all. Then each length
has a few ways to be spread, a_i1 y_1 + ... + a_iT y_T = D_i, and a depth-first search picks one way
for every length such that no bar is overfilled. Combining 2 to 1, 3 to 2 and so on is the idea of
Foerster and Waescher (2000, IJPR 38:1657-1676); here the combination is found by exact search.

Everything is whole numbers, randomness included, so equal seeds give equal answers anywhere.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numba
import numpy as np
from numpy.typing import NDArray

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]
Words = NDArray[np.uint64]

MOST_BINS = 5
"""Patterns that one round takes apart at most."""
DRAWS = 8
"""Patterns drawn at most for each place of a round."""
MOST_WAYS = 3000
"""Ways to spread the lengths of one round; rounds with more are given up."""
_MODULUS = 2147483647  # Park and Miller (1988): x -> 48271 x mod (2**31 - 1), from memory


def _machine_code(function: Callable[..., Any]) -> Callable[..., Any]:
    try:
        return numba.njit(cache=True)(function)  # type: ignore[no-any-return]
    except RuntimeError:  # nowhere to keep the machine code: an installation nobody may write to
        return numba.njit(function)  # type: ignore[no-any-return]


@_machine_code
def _below(state: Ints, n: int) -> int:
    """Draw a number in 0..n-1."""
    state[0] = state[0] * 48271 % _MODULUS
    return state[0] % n  # type: ignore[no-any-return]


@_machine_code
def _highest(words: Words, at_most: int, at_least: int) -> int:
    """Give the highest set bit in at_least..at_most, or -1."""
    if at_least < 0:
        at_least = 0
    if at_most < at_least:
        return -1
    one = np.uint64(1)
    word = at_most >> 6
    bits = words[word]
    top = at_most & 63
    if top < 63:
        bits &= (one << np.uint64(top + 1)) - one
    last = at_least >> 6
    while bits == np.uint64(0):
        word -= 1
        if word < last:
            return -1
        bits = words[word]
    place = 0
    step = 32
    while step:
        if bits >> np.uint64(step):
            bits >>= np.uint64(step)
            place += step
        step >>= 1
    found = (word << 6) + place
    return found if found >= at_least else -1


@_machine_code
def _or_shifted(into: Words, words: Words, shift: int, size: int) -> None:
    """Set into |= words << shift, over the first ``size`` words."""
    far = shift >> 6
    near = np.uint64(shift & 63)
    if shift & 63 == 0:
        for k in range(far, size):
            into[k] |= words[k - far]
        return
    back = np.uint64(64 - (shift & 63))
    if far < size:
        into[far] |= words[0] << near
    for k in range(far + 1, size):
        into[k] |= (words[k - far] << near) | (words[k - far - 1] >> back)


@_machine_code
def _spread(
    n: int, demand: Ints, sizes: Ints, bins: int, y: Ints, room: Ints, most: int, starts: Ints, ways: Ints
) -> bool:
    """List for each length its ways a with sum(a_j y_j) = demand; False when one has none or all too many."""
    a = np.zeros(MOST_BINS, np.int64)
    total = 0
    for i in range(n):
        starts[i] = total
        left = demand[i]
        j = 0
        a[0] = min(left // y[0], room[0] // sizes[i], most)
        left -= a[0] * y[0]
        while j >= 0:
            if j == bins - 1:
                if left == 0:
                    if total == MOST_WAYS:
                        return False
                    for b in range(bins):
                        ways[total, b] = a[b]
                    total += 1
                # the last number is forced, so step the one before it
                left += a[j] * y[j]
                j -= 1
                while j >= 0 and a[j] == 0:
                    j -= 1
                if j >= 0:
                    a[j] -= 1
                    left += y[j]
            else:
                j += 1
                a[j] = min(left // y[j], room[j] // sizes[i], most)
                left -= a[j] * y[j]
        if total == starts[i]:
            return False
    starts[n] = total
    return True


@_machine_code
def regroup(
    n: int,
    demand: Ints,
    sizes: Ints,
    bins: int,
    y: Ints,
    room: Ints,
    fewest: Ints,
    slack: int,
    grain: int,
    most_pieces: int,
    most_lengths: int,
    lean: bool,
    max_nodes: int,
    state: Ints,
    starts: Ints,
    ways: Ints,
    reach: Words,
    out: Ints,
) -> bool:
    """
    Spread every length over bins that stand for y_j bars each, no bar overfilled.

    Parameters
    ----------
    demand, sizes
        Pieces and size of each length, shape ``(n,)``.
    y, room, fewest
        Bars behind each bin, the size a bar holds and the least it must hold, shape ``(bins,)``.
    slack
        sum(y room) - sum(demand sizes): what the bars together may waste.
    grain
        Resolution of the table of sums; 1 is exact, a coarser one only prunes less.
    lean
        Whether to try ways that use few bins first.
    max_nodes
        Ways tried before giving up.
    out
        Filled with the pieces of each bin, shape ``(bins, n)``.
    """
    if not _spread(n, demand, sizes, bins, y, room, most_pieces, starts, ways):
        return False
    # lengths with few ways first, then large ones
    order = np.empty(n, np.int64)
    for i in range(n):
        at = i
        number = starts[i + 1] - starts[i]
        while at > 0:
            before = order[at - 1]
            others = starts[before + 1] - starts[before]
            if others < number or (others == number and sizes[before] >= sizes[i]):
                break
            order[at] = before
            at -= 1
        order[at] = i
    if lean:
        for i in range(n):
            for o in range(starts[i] + 1, starts[i + 1]):
                at = o
                while at > starts[i]:
                    here, there = 0, 0
                    for j in range(bins):
                        here += ways[at, j] > 0
                        there += ways[at - 1, j] > 0
                    if there <= here:
                        break
                    for j in range(bins):
                        ways[at, j], ways[at - 1, j] = ways[at - 1, j], ways[at, j]
                    at -= 1
    # reach[j, d]: sums that lengths order[d:] can bring to a bar of bin j, each size in grains rounded
    # down; a sum of b pieces is then at most b grains too low
    waste = np.empty(bins, np.int64)
    blur = np.zeros(bins, np.int64)
    smallest = sizes[0]
    for i in range(n):
        smallest = min(smallest, sizes[i])
    for j in range(bins):
        waste[j] = min(slack // y[j], room[j] - fewest[j])
        if grain > 1:
            blur[j] = room[j] // smallest + 1
        top = room[j] // grain
        size = (top >> 6) + 1
        for k in range(size):
            reach[j, n, k] = np.uint64(0)
        reach[j, n, 0] = np.uint64(1)
        for d in range(n - 1, -1, -1):
            i = order[d]
            for k in range(size):
                reach[j, d, k] = np.uint64(0)
            seen = 0
            for o in range(starts[i], starts[i + 1]):
                a = ways[o, j]
                if a < 62:
                    if (seen >> a) & 1:
                        continue
                    seen |= 1 << a
                shift = a * (sizes[i] // grain)
                if shift <= top:
                    _or_shifted(reach[j, d], reach[j, d + 1], shift, size)
        if _highest(reach[j, 0], top, (room[j] - waste[j]) // grain - blur[j]) < 0:
            return False
    rest = np.zeros((n + 1, bins), np.int64)
    pieces = np.zeros((n + 1, bins), np.int64)
    lengths = np.zeros((n + 1, bins), np.int64)
    first = np.zeros(n, np.int64)
    tried = np.zeros(n, np.int64)
    chosen = np.zeros(n, np.int64)
    for j in range(bins):
        rest[0, j] = room[j]
    d = 0
    nodes = 0
    first[0] = 0 if lean else _below(state, starts[order[0] + 1] - starts[order[0]])
    while True:
        i = order[d]
        number = starts[i + 1] - starts[i]
        if tried[d] == number:
            if d == 0:
                return False
            d -= 1
            continue
        o = starts[i] + (first[d] + tried[d]) % number
        tried[d] += 1
        nodes += 1
        if nodes > max_nodes:
            return False
        least_waste = 0
        fits = True
        for j in range(bins):
            a = ways[o, j]
            left = rest[d, j] - a * sizes[i]
            if left < 0:
                fits = False
                break
            rest[d + 1, j] = left
            pieces[d + 1, j] = pieces[d, j] + a
            lengths[d + 1, j] = lengths[d, j] + (a > 0)
            if pieces[d + 1, j] > most_pieces or lengths[d + 1, j] > most_lengths:
                fits = False
                break
            filled = _highest(reach[j, d + 1], left // grain, (left - waste[j]) // grain - blur[j])
            if filled < 0 or (d + 1 == n and left > waste[j]):
                fits = False
                break
            least_waste += y[j] * max(0, left - (filled + blur[j]) * grain)
            if least_waste > slack:
                fits = False
                break
        if not fits:
            continue
        chosen[d] = o
        d += 1
        if d == n:
            break
        tried[d] = 0
        first[d] = 0 if lean else _below(state, starts[order[d] + 1] - starts[order[d]])
    for d in range(n):
        for j in range(bins):
            out[j, order[d]] = ways[chosen[d], j]
    return True


@_machine_code
def _scrap(waste: int, kind: int, unit: int, scrap_rule: Ints) -> int:
    """Give the scrap of a bar that wastes so many units: its tail unless that is kept."""
    tail = waste * unit + scrap_rule[kind, 0]  # rest of the capacity + tail loss - kerf
    if tail <= 0 or tail >= scrap_rule[kind, 1]:
        return 0
    return tail  # type: ignore[no-any-return]


@_machine_code
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

    Returns
    -------
    tuple
        Patterns in use and scrap that may still be added.
    """
    m = sizes.shape[0]
    subset = np.empty(MOST_BINS, np.int64)
    item = np.empty(m, np.int64)
    demand = np.empty(m, np.int64)
    size = np.empty(m, np.int64)
    y = np.empty(MOST_BINS, np.int64)
    kind = np.empty(MOST_BINS, np.int64)
    room = np.empty(MOST_BINS, np.int64)
    least = np.empty(MOST_BINS, np.int64)
    out = np.zeros((MOST_BINS, m), np.int64)
    union = np.zeros(m, np.int64)
    for _ in range(attempts):
        if count < 2:
            break
        draw = _below(state, 100)
        k = min(count, 2 if draw < 15 else 3 if draw < 55 else 4 if draw < 85 else 5)
        # a pattern, then others, each of a few drawn the one with most lengths in common
        for i in range(m):
            union[i] = 0
        subset[0] = _below(state, count)
        for i in range(m):
            union[i] += patterns[subset[0], i]
        for chosen in range(1, k):
            most = -1
            for _draw in range(1 + _below(state, DRAWS)):
                p = _below(state, count)
                again = True
                while again:
                    again = False
                    for q in range(chosen):
                        if subset[q] == p:
                            again = True
                            p = (p + 1) % count
                common = 0
                for i in range(m):
                    common += patterns[p, i] > 0 and union[i] > 0
                if common > most:
                    most = common
                    subset[chosen] = p
            for i in range(m):
                union[i] += patterns[subset[chosen], i]
        # by kind of bar
        for q in range(1, k):
            r = q
            while r > 0 and kinds[subset[r - 1]] > kinds[subset[r]]:
                subset[r - 1], subset[r] = subset[r], subset[r - 1]
                r -= 1
        n = 0
        slack = 0
        mixed = 0
        old_scrap = 0
        for q in range(k):
            p = subset[q]
            slack += times[p] * rooms[kinds[p]]
        for i in range(m):
            total = 0
            for q in range(k):
                if patterns[subset[q], i]:
                    total += patterns[subset[q], i] * times[subset[q]]
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
            p = subset[q]
            waste = rooms[kinds[p]]
            for c in range(n):
                waste -= patterns[p, item[c]] * size[c]
            old_scrap += times[p] * _scrap(waste, kinds[p], unit, scrap_rule)
        fewer = _below(state, 2) == 0
        bins = k
        drop = -1
        if fewer:
            # a bin of a kind that has two of them can go
            drop = _below(state, k)
            twin = False
            for q in range(k):
                twin |= q != drop and kinds[subset[q]] == kinds[subset[drop]]
            if not twin:
                continue
            bins = k - 1
        b = 0
        for q in range(k):
            if q == drop:
                continue
            p = subset[q]
            y[b] = times[p]
            kind[b] = kinds[p]
            room[b] = rooms[kinds[p]]
            least[b] = fewest[kinds[p]]
            b += 1
        if drop >= 0:
            # its bars go to another bin of the kind
            start = _below(state, bins)
            for q in range(bins):
                b = (start + q) % bins
                if kind[b] == kinds[subset[drop]]:
                    y[b] += times[subset[drop]]
                    break
        tries = 1 if bins == 1 else 12 if fewer else 1
        base = y.copy()
        for attempt in range(tries):
            if attempt or _below(state, 3):
                # move bars between bins of one kind
                for q in range(bins):
                    y[q] = base[q]
                for _shift in range(1 + _below(state, 2)):
                    b = _below(state, bins)
                    c = _below(state, bins)
                    if b != c and kind[b] == kind[c] and y[b] > 1:
                        moved = 1 + _below(state, y[b] - 1)
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
                _below(state, 2) == 0,
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
                if more >= accept.shape[0] or _below(state, 1000) >= accept[more]:
                    break
            spare_scrap -= scrap - old_scrap
            for b in range(bins):
                p = subset[b]
                times[p] = y[b]
                kinds[p] = kind[b]
                for c in range(n):
                    patterns[p, item[c]] = out[b, c]
            if fewer:
                gone = subset[k - 1]
                count -= 1
                times[gone] = times[count]
                kinds[gone] = kinds[count]
                for i in range(m):
                    patterns[gone, i] = patterns[count, i]
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
                times[p] = times[count]
                kinds[p] = kinds[count]
                for i in range(m):
                    patterns[p, i] = patterns[count, i]
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


@_machine_code
def price_runs(
    sizes: Ints,
    demand: Ints,
    duals: Floats,
    bar_dual: float,
    room: int,
    fewest: int,
    slack: int,
    waste: int,
    most_pieces: int,
    most_lengths: int,
    longest: int,
    runs: Ints,
    values: Floats,
) -> None:
    """
    Find for every number of bars t the pattern worth most when it is cut t times.

    A bounded knapsack of the pieces that t bars can take from the demand, by a table over all fills
    that waste neither more than ``waste`` a bar nor more than ``slack`` in all.

    Parameters
    ----------
    duals, bar_dual
        Worth of a piece of each length, shape ``(m,)``, and of a bar.
    longest
        Most bars of one run.
    runs, values
        Filled with the pieces of a bar and the worth of the run, shape ``(longest + 1, m)`` and
        ``(longest + 1,)``; minus infinity where there is no such pattern.
    """
    m = sizes.shape[0]
    worth = np.empty(room + 1)
    taken = np.zeros((m, room + 1), np.int32)
    for t in range(1, longest + 1):
        worth[:] = -np.inf
        worth[0] = 0.0
        top = 0
        for i in range(m):
            most = demand[i] // t
            if most == 0:
                continue
            size = sizes[i]
            top = min(room, top + most * size)
            for fill in range(top, -1, -1):
                best = worth[fill]
                number = 0
                for a in range(1, most + 1):
                    if a * size > fill:
                        break
                    value = worth[fill - a * size] + a * duals[i]
                    if value > best + 1e-12:
                        best = value
                        number = a
                worth[fill] = best
                taken[i, fill] = number
        values[t] = -np.inf
        found = -1
        for fill in range(max(1, fewest, room - min(waste, slack // t)), top + 1):
            if worth[fill] > -np.inf and (found < 0 or worth[fill] > worth[found]):
                found = fill
        if found < 0:
            continue
        value = worth[found]
        pieces = 0
        lengths = 0
        for i in range(m - 1, -1, -1):
            runs[t, i] = 0
            if demand[i] // t == 0:
                continue
            number = taken[i, found]
            runs[t, i] = number
            found -= number * sizes[i]
            pieces += number
            lengths += number > 0
        if pieces <= most_pieces and lengths <= most_lengths:
            values[t] = t * (value + bar_dual)
