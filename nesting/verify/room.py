"""
Whether bars that cost less than a bound could have room for all the pieces.

Every piece takes its length and a kerf, every bar gives its length less both trims and plus a kerf; so
whole bars that hold less than the pieces take in all cannot make a plan, however the pieces lie.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import gcd

from nesting.domain.problem import BarKind, Problem
from nesting.verify.pattern_worth import Work


def sizes_of(problem: Problem) -> tuple[Sequence[int], int]:
    """Give what each piece takes with its kerf, in units of what all sizes have in common, and the unit."""
    sizes = [length + problem.kerf for length in problem.lengths]
    unit = gcd(*sizes) or 1
    return [size // unit for size in sizes], unit


def capacity_of(problem: Problem, bar: BarKind, unit: int) -> int:
    """Give the whole units that pieces can take of a bar; the rest of it is no room."""
    return (bar.length - bar.head - bar.tail + problem.kerf) // unit


def has_room_below(problem: Problem, bound: int, work: Work) -> bool:
    """
    Tell whether some choice of whole bars costs less than ``bound`` and has room for everything.

    Kind by kind, the most room per cost first; a choice is given up when what is left to spend cannot
    buy the room that is missing even in parts of bars.

    Raises
    ------
    TooLarge
        When the work allowed is used up.
    """
    sizes, unit = sizes_of(problem)
    need = sum(size * n for size, n in zip(sizes, problem.counts, strict=True))
    bars = []
    for bar in problem.bars:
        room = capacity_of(problem, bar, unit)
        if room >= min(sizes, default=1):  # what holds no piece is no room
            most = -(-need // room)
            bars.append((room, bar.cost, most if bar.count is None else min(bar.count, most)))
    free = [bar for bar in bars if bar[1] == 0]
    need -= sum(room * count for room, _, count in free)
    paid = sorted((bar for bar in bars if bar[1] > 0), key=lambda bar: Fraction(bar[0], bar[1]), reverse=True)
    return bound > 0 and (need <= 0 or _reaches(paid, need, bound - 1, work))


def _reaches(bars: Sequence[tuple[int, int, int]], need: int, money: int, work: Work) -> bool:
    """Tell whether bars that the money buys have the room that is needed."""
    if not _could(bars, need, money, work):
        return False
    # Kind, room still missing, money left, how many of the kind are tried next.
    open_ = [(0, need, money, _most(bars[0], money))]
    while open_:
        place, missing, left, times = open_.pop()
        room, cost, _ = bars[place]
        still, change = missing - times * room, left - times * cost
        if still <= 0:
            return True
        if not _could(bars[place + 1 :], still, change, work):
            continue  # with fewer of the kind that gives the most room for its cost even less could be had
        if times:
            open_.append((place, missing, left, times - 1))
        open_.append((place + 1, still, change, _most(bars[place + 1], change)))
    return False


def _most(bar: tuple[int, int, int], money: int) -> int:
    _, cost, count = bar
    return min(count, money // cost)


def _could(bars: Sequence[tuple[int, int, int]], need: int, money: int, work: Work) -> bool:
    """Tell whether the money buys the room in parts of bars; the best in sequence is the most there is."""
    work.spend(1 + len(bars))
    for room, cost, count in bars:
        if cost * count >= money:
            return need * cost <= room * money
        need -= room * count
        money -= cost * count
        if need <= 0:
            return True
    return False
