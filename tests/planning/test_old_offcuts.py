"""Among offcuts that serve equally well, the oldest first."""

from __future__ import annotations

from dataclasses import replace

import pytest

from nesting.batch.split import split
from nesting.domain.packing import Packing, PatternUse
from nesting.domain.plan import Plan
from nesting.domain.stock import Offcut
from nesting.errors import ProblemError
from nesting.money import read_money
from nesting.planning.old_offcuts import OLDER_LEFT, with_oldest_offcuts
from nesting.planning.settle import settle
from nesting.takeoff.take_off import take_off
from tests.batch.shop import order, planned


def plan_with(pieces: dict[int, int], rack: dict[str, tuple[int, str]], **more: object) -> Plan:
    """Plan pieces (mm: how many) from offcuts (tag: mm, day)."""
    request = order(pieces, bars={2000: "11.40"}, offcuts={tag: mm for tag, (mm, _) in rack.items()})
    aged = tuple(replace(one, born=rack[one.tag][1], **more) for one in request.offcuts)  # type: ignore[arg-type]
    return planned(replace(request, offcuts=aged))


def taken(plan: Plan) -> set[str]:
    """Give the tags of the offcuts that are cut."""
    return {bar.source for group in plan.groups for bar in group.bars if bar.offcut}


def test_of_equal_offcuts_the_oldest_is_cut() -> None:
    """The rack grows old otherwise: what was put there last is found first."""
    rack = {"A": (640, "2027-02-01"), "B": (640, "2026-05-01"), "C": (640, "2026-08-01")}
    plan = plan_with({600: 1}, rack)
    assert taken(plan) == {"B"}
    told = [price for price in plan.groups[0].goals if price.goal == OLDER_LEFT]
    assert all(price.price == 0 for price in told)


def test_an_old_long_offcut_is_not_shortened_for_its_age() -> None:
    """1900 mm cut for a 600 would leave another offcut on the rack; the younger 640 is used up by it."""
    request = order({600: 1}, bars={2000: "11.40"}, offcuts={"A": 640, "B": 1900})
    days = {"A": "2027-02-01", "B": "2020-01-01"}
    aged = tuple(replace(one, born=days[one.tag]) for one in request.offcuts)
    parts = split(replace(request, offcuts=aged), take_off(request).pieces)
    settled = settle(parts.chains[0][0])
    keys = [bar.key for bar in settled.group.problem.bars]
    young = Packing((PatternUse(keys.index("A"), ((0, 1),), 1),), (0,))
    chosen = replace(settled, result=replace(settled.result, best=young))
    assert with_oldest_offcuts(chosen) is chosen


def test_an_unknown_age_counts_as_the_youngest() -> None:
    """Nobody is sent to the rack for an offcut that may be of yesterday."""
    assert taken(plan_with({600: 1}, {"A": (640, ""), "B": (640, "2026-05-01")})) == {"B"}
    assert taken(plan_with({600: 1}, {"A": (640, "2026-05-01"), "B": (640, "")})) == {"A"}


def test_an_older_offcut_that_costs_more_stays() -> None:
    """Age breaks ties; it is never paid for."""
    rack = {"A": (640, "2027-02-01"), "B": (640, "2026-05-01")}
    request = order({600: 1}, bars={2000: "11.40"}, offcuts={tag: mm for tag, (mm, _) in rack.items()})
    values = {"A": read_money("1.00"), "B": read_money("1.50")}
    aged = tuple(replace(one, born=rack[one.tag][1], value=values[one.tag]) for one in request.offcuts)
    assert taken(planned(replace(request, offcuts=aged))) == {"A"}


def test_a_day_that_is_none_is_refused() -> None:
    """A date nobody understands would sort anywhere."""
    with pytest.raises(ProblemError, match="no date"):
        Offcut(tag="A", family="F", length=order({600: 1}, bars={}).piece_lines[0].length, born="spring")
